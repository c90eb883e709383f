import { describe, expect, test } from 'vitest';
import type { CutList, CuttingLayouts } from '../../src/cutting/types.ts';
import { findJoinery } from '../../src/joinery/index.ts';
import type { Part, Plan } from '../../src/model/types.ts';
import { proofPlan } from '../../src/proof/index.ts';
import type { Overlap } from '../../src/proof/types.ts';
import { inches, mm } from '../../src/units.ts';
import { testHardware } from '../support/hardware.ts';
import { boxPart, samplePlan, stock1x4 } from '../support/sample.ts';

const cutList: CutList = { rows: [], letters: {}, volume: { value: 0, unit: 'board feet' } };
const layouts: CuttingLayouts = { boards: [], kerf: mm(3), proofs: [], stops: [] };

const findings = (plan: Plan, overlaps: readonly Overlap[] = []) =>
  proofPlan({ plan, joinery: findJoinery(plan, testHardware), cutList, layouts, overlaps });

const withPart = (part: Part): Plan => ({
  ...samplePlan,
  parts: [...samplePlan.parts, part],
  steps: [...samplePlan.steps, { ...samplePlan.steps[1]!, index: 3, title: 'More', adds: [part.key] }],
});

describe('the proof', () => {
  test('has nothing to say of the sample bench', () => {
    expect(findings(samplePlan)).toEqual([]);
  });

  test('glued joints without a glue are said at the first of them', () => {
    const [joint] = samplePlan.joints as [Plan['joints'][number]];
    const glued: Plan = { ...samplePlan, joints: [{ ...joint, by: 'glue' }] };
    const said = (plan: Plan) => findings(plan).map(({ id, severity, origin }) => [id, severity, origin]);
    expect(said(glued)).toEqual([['joint.glue-missing', 'warning', joint.origin]]);
    const glue = testHardware.find(({ fits }) => fits?.joint === 'glue');
    const item = glue ?? { ...testHardware[0]!, key: 'wood-glue', name: 'Wood glue' };
    const use = { item, count: 1, origin: joint.origin };
    expect(said({ ...glued, hardware: [use] })).toEqual([]);
  });

  test('banded edges without a banding are said at their part', () => {
    const [first, ...others] = samplePlan.parts as [Part, ...Part[]];
    const banded: Plan = { ...samplePlan, parts: [{ ...first, banded: ['front'] }, ...others] };
    const said = (plan: Plan) => findings(plan).map(({ id, severity, origin }) => [id, severity, origin]);
    expect(said(banded)).toEqual([['part.banding-missing', 'warning', first.origin]]);
    const item = { ...testHardware[0]!, key: 'band', bands: { left: inches(300), right: mm(7500) } };
    expect(said({ ...banded, hardware: [{ item, count: 1, origin: first.origin }] })).toEqual([]);
  });

  test('layouts with boards that only the maker has are said, since buyers don’t have them', () => {
    const board = {
      stock: stock1x4,
      species: 'pine',
      boardLength: inches(70),
      lengthLabel: '70 in, on hand (2)',
      count: 2,
      sections: [],
      cuts: [],
      offcut: mm(0),
      endTrim: mm(0),
      price: 0,
      own: true as const,
    };
    const found = proofPlan({
      plan: samplePlan,
      joinery: findJoinery(samplePlan, testHardware),
      cutList,
      layouts: { ...layouts, boards: [board] },
      overlaps: [],
    });
    expect(found).toMatchObject([
      {
        id: 'on-hand.used',
        severity: 'warning',
        origin: { file: 'content/on-hand.yaml', line: 1, column: 1 },
        message: expect.stringContaining('found 2 of 1×4, 70 in, which only you have'),
      },
    ]);
  });

  test('a part that touches nothing is named with the nearest one and the gap', () => {
    const plan = withPart(
      boxPart('rail', stock1x4, 'across', 'front', [
        [
          [4, 0, 5],
          [36, 0.75, 8.5],
        ],
      ]),
    );
    const found = findings(plan);
    expect(found.map((item) => item.id)).toEqual(['place.loose', 'step.floating']);
    expect(found[0]?.message).toContain('rail.1 on its own, 1/2″ from leg');
    // Joined, its joint says how far it is from the other.
    const [joint] = plan.joints as [Plan['joints'][number]];
    const joined: Plan = { ...plan, joints: [...plan.joints, { ...joint, join: 'rail', to: 'leg' }] };
    expect(findJoinery(joined, testHardware).diagnostics.map((item) => item.id)).toEqual(['joint.apart']);
    expect(findings(joined).map((item) => item.id)).not.toContain('place.loose');
  });

  test('a part beyond the outline and an outline nothing reaches are both said, with the figure', () => {
    const beyond = withPart(
      boxPart('shelf', stock1x4, 'across', 'top', [
        [
          [0, 14.5, 0],
          [40, 18, 0.75],
        ],
      ]),
    );
    expect(findings(beyond)).toMatchObject([
      {
        id: 'outline.outside',
        severity: 'warning',
        message: expect.stringContaining('3 1/2″ beyond its back'),
      },
    ]);
    const tall: Plan = { ...samplePlan, outline: { ...samplePlan.outline, height: inches(20) } };
    expect(findings(tall)).toMatchObject([
      { id: 'outline.short', message: expect.stringContaining('2″ short') },
    ]);
  });

  test('copies in one place, and boards in the same room, are errors', () => {
    const twice = withPart(
      boxPart('rail', stock1x4, 'across', 'front', [
        [
          [3.5, 0, 5],
          [36.5, 0.75, 8.5],
        ],
        [
          [3.5, 0, 5],
          [36.5, 0.75, 8.5],
        ],
      ]),
    );
    expect(findings(twice).filter((item) => item.severity === 'error')).toMatchObject([
      { id: 'place.coincide' },
    ]);
    const bounds = { min: [0, 0, 0], max: [25.4, 25.4, 12.7] } as const;
    const overlap = { first: 'leg.1', second: 'apron.1', volume: 8193.5, bounds };
    expect(findings(samplePlan, [overlap])).toMatchObject([
      {
        id: 'place.overlap',
        severity: 'error',
        message: expect.stringContaining('1″ across × 1″ deep × 1/2″ high'),
      },
    ]);
  });

  test('a joint that no step makes is named', () => {
    const plan: Plan = { ...samplePlan, steps: samplePlan.steps.slice(1) };
    expect(findings(plan).map((item) => item.id)).toContain('step.joint');
  });

  test('a rounding of the edition is a note with both figures', () => {
    const plan: Plan = {
      ...samplePlan,
      roundings: [
        {
          origin: { file: 'p', line: 3, column: 7 },
          written: '20 mm',
          exact: mm(20),
          rounded: inches(0.8125),
        },
      ],
    };
    expect(findings(plan)).toMatchObject([
      { id: 'size.rounded', severity: 'note', message: '20 mm is 0.7874″; this edition takes 13/16″' },
    ]);
  });
});
