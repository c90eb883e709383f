/** Lids and doors drawn open: places worked by hand, and a turn that keeps every distance, as a turn does (Euclid). */
import { beforeAll, describe, expect, it } from 'vitest';
import { Desk } from '../../src/draw/desk.ts';
import { drawPlan, loadSvg } from '../../src/draw/index.ts';
import { deskFor, turnedPart } from '../../src/draw/shading/turned.ts';
import { readRequest } from '../../src/instructions/requests.ts';
import type { Vec3 } from '../../src/model/types.ts';
import { built, metric } from '../resolve/shop.ts';
import { workOf } from './work.ts';

beforeAll(loadSvg);

// Two posts 45 deep, 910 apart, 500 high; a rail of 18 × 95 between them, its front at 0, its top at 250. A hole 40 mm from its left end.
const plan = built(
  {
    parts: `post:
  stock: 2x4
  runs: up
  wide face: front
  length: 20 in | 500 mm
  at: { bottom: floor, left: left, front: front }
  copies: mirrored left-right
flap:
  stock: 1x4
  runs: across
  wide face: front
  between: post
  at: { top: 10 in | 250 mm, front: post.front }
  assembly: shutter
  shape:
    - hole: front
      at: { across: flap.left + 40 mm }
      diameter: 20 mm
`,
    steps:
      '## Steps\n\n### Build\n\n```step\nadds: [flap]\nassembly: shutter\n```\n\n### Set\n\n```step\nadds: [post, shutter]\n```\n',
  },
  metric,
);
const origin = { file: 'plan.md', line: 30, column: 1 };
const read = (attributes: Record<string, string>) =>
  readRequest({ id: 'request-1', caption: 'Open', attributes, origin }, plan);
const up = { open: 'shutter', about: 'flap.back, flap.top', by: '90 deg' };
const work = workOf(plan);
const flap = work.parts.find((part) => part.part === 'flap')!;
const tidy = (v: Vec3) => v.map((x) => Number(x.toFixed(6)) + 0);

describe('parts drawn open', () => {
  it('rise about a level line: what hung below it lies level in front of it', () => {
    const { value, diagnostics } = read(up);
    expect(diagnostics).toEqual([]);
    const { bounds } = turnedPart(flap, value.open!);
    // About y = 18, z = 250: the lower front edge, 18 before and 95 below, comes to 95 before and 18 above.
    const { min, max } = flap.bounds;
    expect(tidy(bounds.min)).toEqual([min[0], 18 - 95, 250]);
    expect(tidy(bounds.max)).toEqual([max[0], 18, 250 + 18]);
  });

  it('come to the front about an upright line, and go the other way by a negative angle', () => {
    const door = { open: 'flap', about: 'flap.left, flap.front' };
    const { min, max } = flap.bounds;
    const long = max[0] - min[0];
    const open = turnedPart(flap, read({ ...door, by: '90 deg' }).value.open!).bounds;
    expect(tidy(open.min)).toEqual([min[0], -long, 155]);
    expect(tidy(open.max)).toEqual([min[0] + 18, 0, 250]);
    const inward = turnedPart(flap, read({ ...door, by: '-90 deg' }).value.open!).bounds;
    expect(tidy(inward.max)).toEqual([min[0], long, 250]);
  });

  it('open as a pair: what lies beyond the middle is the mirror image of what turns about the hinge that is named', () => {
    // Two doors of 18 × 95, 500 high, 400 apart in an outline of 1000: hinged at 205 and 795, opened by 90 deg they reach 95 to the front.
    const doors = built(
      {
        parts:
          'door:\n  stock: 1x4\n  runs: up\n  wide face: front\n  length: 20 in | 500 mm\n' +
          '  at: { bottom: floor, left: outline.width / 2 - 295 mm, front: front }\n  copies: mirrored left-right\n',
        steps: '## Steps\n\n### Hang\n\n```step\nadds: [door]\n```\n',
      },
      metric,
    );
    const ask = (mirrored: string) =>
      readRequest(
        {
          id: 'request-1',
          caption: 'Open',
          attributes: { open: 'door', about: 'door.left, door.front', by: '90 deg', mirrored, name: 'open' },
          origin,
        },
        doors,
      );
    const { value, diagnostics } = ask('left-right');
    expect(diagnostics).toEqual([]);
    const desk = deskFor(new Desk(workOf(doors)), value);
    expect(desk.input.parts.map(({ bounds }) => [tidy(bounds.min), tidy(bounds.max)])).toEqual([
      [
        [205, -95, 0],
        [223, 0, 500],
      ],
      [
        [777, -95, 0],
        [795, 0, 500],
      ],
    ]);
    for (const bad of ['bottom-top', 'left', '']) {
      expect(ask(bad).value.open).toBeUndefined();
      expect(ask(bad).diagnostics[0]?.id).toBe('drawing.mirrored');
    }
  });

  it('keep their distances, and their planes and holes with them', () => {
    const turned = turnedPart(flap, read({ ...up, by: '37 deg' }).value.open!);
    const apart = (list: readonly Vec3[]) =>
      list.flatMap((a, i) => list.slice(0, i).map((b) => Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2])));
    apart(turned.vertices).forEach((distance, i) => {
      expect(distance).toBeCloseTo(apart(flap.vertices)[i]!, 9);
    });
    for (const face of turned.faces) {
      for (const index of face.loops.flat()) {
        const p = turned.vertices[index]!;
        const height = p[0] * face.normal[0] + p[1] * face.normal[1] + p[2] * face.normal[2];
        expect(height).toBeCloseTo(face.offset, 4);
        const { round } = face;
        if (!round) continue;
        // The distance of a rim's point from the axis of its hole is the hole's radius.
        const way = [p[0] - round.origin[0], p[1] - round.origin[1], p[2] - round.origin[2]];
        const along = way[0]! * round.axis[0] + way[1]! * round.axis[1] + way[2]! * round.axis[2];
        expect(Math.sqrt(way.reduce((sum, x) => sum + x * x, 0) - along ** 2)).toBeCloseTo(10, 3);
      }
    }
  });

  it('count in the sizes over all', () => {
    const { value } = read({ ...up, from: 'right' });
    const set = drawPlan({ ...work, instructions: { ...work.instructions, requests: [value] } });
    const drawing = set.drawings.find((d) => d.kind === 'request')!;
    // 77 before the posts and their 45: 122 deep
    expect(drawing.alt).toContain('open by 90°');
    expect(drawing.alt).toContain('122 mm deep');
  });

  it('stand for the piece where the plan names such a drawing: on cover, summary and plate, without sizes', () => {
    const { value } = read({ ...up, from: 'front left above', sizes: 'none', name: 'open' });
    const drawn = (picture: boolean) =>
      drawPlan({
        ...work,
        instructions: { ...work.instructions, requests: [value], ...(picture ? { picture: value } : {}) },
      }).drawings;
    const [opened, closed] = [drawn(true), drawn(false)];
    const of = (list: typeof opened, id: string) => list.find((drawing) => drawing.id === id)!;
    const asked = of(opened, 'request-1');
    for (const id of ['pictorial', 'pictorial-small', 'plate']) {
      expect(of(opened, id).alt, id).toContain('open by 90°, seen from the front, the left and above');
      expect(of(closed, id).alt, id).toContain('seen from the front, the right and above');
      expect(of(opened, id).svg, id).not.toContain('k-dim');
      // As wide for its height as the drawing asked for, within the width of the outline.
      const shape = (d: typeof asked) => (d.width - 1) / (d.height - 1);
      expect(Math.abs(shape(of(opened, id)) / shape(asked) - 1), id).toBeLessThan(0.03);
      expect(of(opened, id).svg).not.toBe(of(closed, id).svg);
    }
  });

  const faults: readonly [Record<string, string>, string][] = [
    [{ ...up, open: 'shutters' }, 'did you mean shutter?'],
    [{ ...up, about: 'flap.back' }, 'two faces that meet'],
    [{ ...up, about: 'flap.back, flap.front' }, 'two faces that meet'],
    [{ ...up, about: 'flop.back, flap.top' }, 'flop'],
    [{ ...up, by: '90 mm' }, 'an angle of 270 deg at most'],
    [{ open: 'flap', about: up.about }, 'an angle of 270 deg at most'],
    [{ about: up.about }, 'open="…" with the parts that turn'],
  ];
  for (const [attributes, message] of faults)
    it(`say what is wrong with ${JSON.stringify(attributes)}`, () => {
      const { value, diagnostics } = read(attributes);
      expect(diagnostics.length).toBe(1);
      expect(`${diagnostics[0]?.message} ${diagnostics[0]?.hint}`).toContain(message);
      expect(diagnostics[0]?.origin.file).toBe('plan.md');
      expect(value.open).toBeUndefined();
    });
});
