/** Boards drawn by chance with work in either wide face, in both, in edges and ends: as a plan writes them. */
import type { Direction, Face } from '../../src/read/types.ts';

const FACES: Readonly<Record<Direction, readonly [Face, Face]>> = {
  across: ['left', 'right'],
  deep: ['front', 'back'],
  up: ['bottom', 'top'],
};
const LIES: readonly (readonly [runs: Direction, wide: Face])[] = [
  ['across', 'front'],
  ['across', 'back'],
  ['across', 'top'],
  ['across', 'bottom'],
  ['up', 'left'],
  ['up', 'right'],
  ['up', 'front'],
  ['deep', 'top'],
  ['deep', 'left'],
  ['deep', 'right'],
];
/** Length of the boards, and of what they are 1x6 of: 139.7 or 145 mm; all places keep clear of both. */
const LONG = 460;
const WIDE = 135;
/** Each thing has a stretch of the length for itself, mm. */
const STRETCH = 70;

/**
 * A board with up to six things cut or bored into it, one after the other along it, and sometimes more along the whole: by turns most of
 * them in the face that the plan names, behind it, or in both.
 */
export function boardByChance(random: () => number, turn: number): string {
  const [runs, wide] = LIES[Math.floor(random() * LIES.length)] as (typeof LIES)[number];
  const thick = (Object.keys(FACES) as Direction[]).find((one) => FACES[one].includes(wide)) as Direction;
  const across = (Object.keys(FACES) as Direction[]).find(
    (one) => one !== runs && one !== thick,
  ) as Direction;
  const [start, end] = FACES[runs];
  const [low, high] = FACES[across];
  const behind = FACES[thick].find((face) => face !== wide) as Face;
  const between = (from: number, to: number): number => Math.round(from + random() * (to - from));
  const pick = <T>(items: readonly T[]): T => items[Math.floor(random() * items.length)] as T;
  const side = (): Face => (turn % 3 === 0 ? wide : turn % 3 === 1 ? behind : pick([wide, behind]));
  const at = (face: Face, from: number): string => `board.${face} + ${from} mm`;
  const spot = (x: number, y: number): string => `{ ${runs}: ${at(start, x)}, ${across}: ${at(low, y)} }`;
  const kinds: readonly ((x: number) => string)[] = [
    (x) =>
      `hole: ${side()}, at: ${spot(x + 35, between(20, WIDE - 20))}, diameter: ${between(5, 16)} mm, depth: 9 mm`,
    (x) =>
      `hole: ${side()}, at: ${spot(x + 35, between(40, WIDE - 40))}, diameter: 8 mm, depth: 10 mm, lean: { ${pick([start, end, low, high])}: ${between(5, 20)} deg }`,
    (x) =>
      `hole: ${side()}, at: ${spot(x + 35, between(20, WIDE - 20))}, diameter: 6 mm, counterbore: { diameter: 14 mm, depth: 7 mm }`,
    (x) => `hole: ${side()}, at: ${spot(x + 35, between(20, WIDE - 20))}, diameter: ${between(6, 20)} mm`,
    (x) =>
      `housing: ${side()}, at: { ${start}: ${at(start, x + 20)}, ${end}: ${at(start, x + 38)} }, depth: 6 mm`,
    (x) =>
      `housing: ${side()}, at: { ${start}: ${at(start, x + 20)}, ${end}: ${at(start, x + 40)}, ${pick([low, high])}: ${at(low, 60)} }, depth: ${between(4, 8)} mm`,
    (x) =>
      `slot: ${side()}, from: ${spot(x + 20, between(20, 60))}, to: ${spot(x + 50, between(70, WIDE - 20))}, width: 8 mm, depth: 6 mm`,
    (x) => `hole: ${pick([low, high])}, at: { ${runs}: ${at(start, x + 35)} }, diameter: 6 mm, depth: 20 mm`,
    (x) =>
      `notch: { ${start}: ${at(start, x + 20)}, ${end}: ${at(start, x + 45)}, ${low}: board.${low}, ${high}: ${at(low, between(10, 25))} }`,
  ];
  const shapes: string[] = [];
  const ends = random();
  if (ends < 0.2)
    shapes.push(`mitre: ${pick([start, end])}, angle: ${between(4, 12)} deg, long: ${pick([low, high])}`);
  else if (ends < 0.35)
    shapes.push(`bevel: ${pick([start, end])}, angle: ${between(4, 30)} deg, long: ${pick([wide, behind])}`);
  else if (ends < 0.5)
    shapes.push(
      `taper: [${pick([low, high])}], end: ${end}, from: ${at(start, between(300, 400))}, leaves: ${between(90, 120)} mm`,
    );
  const count = 1 + Math.floor(random() * 4);
  for (let k = 0; k < count; k++) shapes.push(pick(kinds)(30 + k * STRETCH));
  const long = random();
  if (long < 0.25) shapes.push(`rebate: { ${side()}: 6 mm, ${pick([low, high])}: 9 mm }`);
  else if (long < 0.5)
    shapes.push(`groove: ${side()}, at: { ${low}: ${at(low, 62)}, ${high}: ${at(low, 68)} }, depth: 5 mm`);
  if (random() < 0.2) shapes.push(`chamfer: [${pick([wide, behind])} ${pick([low, high])}], width: 3 mm`);
  // Against one face of the piece in each direction, so that its faces look in and out of it by turns.
  const against = (direction: Direction): string => {
    const [near, far] = FACES[direction];
    const face = random() < 0.5 ? near : far;
    return `${face}: ${face === 'bottom' ? 'floor' : face}`;
  };
  return `board:
  stock: 1x6
  runs: ${runs}
  wide face: ${wide}
  length: ${LONG} mm
  at: { ${(['across', 'deep', 'up'] as const).map(against).join(', ')} }
  shape:
${shapes.map((shape) => `    - { ${shape} }`).join('\n')}
`;
}
