/** Boards for the tests of part sheets, in the plan's own words. Invented. */

/** Boards with every shape that a sheet has sizes for. Invented. */
export const PARTS = `post:
  stock: 2x4
  runs: up
  wide face: front
  length: 24 in | 600 mm
  at: { bottom: floor, left: left, front: front }
  copies: mirrored left-right
  shape:
    - { mitre: top, angle: 30 deg, long: left }
    - { hole: front, at: { up: 4 in | 100 mm }, diameter: 3/4 in | 20 mm }
    - { hole: front, at: { up: 8 in | 200 mm }, diameter: 1/2 in | 12 mm, depth: 1 in | 25 mm, repeated: 4, along: up, spacing: 2 in | 50 mm }
    - { notch: { left: left, right: left + 1 in | left + 25 mm, bottom: floor, top: 2 in | 50 mm } }

rail:
  stock: 1x4
  runs: across
  wide face: front
  length: 40 in | 1000 mm
  at: { top: 20 in | 500 mm, front: front, left: left }
  shape:
    - { housing: front, at: { left: left + 8 in | left + 200 mm, right: left + 8.75 in | left + 219 mm }, depth: 1/4 in | 6 mm }
    - { groove: back, at: { bottom: rail.bottom + 0.5 in | rail.bottom + 12 mm, top: rail.bottom + 0.75 in | rail.bottom + 18 mm }, depth: 1/4 in | 6 mm }

panel:
  stock: 1x6
  runs: across
  wide face: top
  length: 20 in | 500 mm
  at: { bottom: 26 in | 650 mm, left: left, front: front }
  shape:
    - { bevel: right, angle: 10 deg, long: top }
    - { hole: top, at: { across: left + 2 in | left + 50 mm, deep: front + 2 in | front + 50 mm }, diameter: 3/8 in | 10 mm, counterbore: { diameter: 3/4 in | 20 mm, depth: 1/4 in | 6 mm }, repeated: 3, along: across, spacing: 4 in | 100 mm }

leg:
  stock: 2x4
  runs: up
  wide face: front
  length: 16 in | 400 mm
  at: { bottom: floor, left: left + 8 in | left + 200 mm, back: back }
  shape:
    - { taper: [right], end: bottom, from: 10 in | 250 mm, leaves: 2 in | 50 mm }
    - { hole: left, at: { up: 14 in | 350 mm }, diameter: 3/8 in | 10 mm, depth: 1 in | 25 mm, lean: { top: 10 deg } }

shelf:
  stock: 1x4
  runs: across
  wide face: top
  length: 30 in | 800 mm
  at: { bottom: 30 in | 750 mm, left: left, front: front }
  shape:
    - { rebate: { back: 3/8 in | 10 mm, bottom: 1/4 in | 6 mm } }
    - { notch: { left: left + 10 in | left + 250 mm, right: left + 12 in | left + 300 mm, front: front, back: front + 1 in | front + 25 mm } }
    - { chamfer: front top, width: 1/8 in | 3 mm }
`;

/** A board 20 in or 500 mm long, 5-1/2 in or 145 mm wide, lying with its wide face to the front. */
const board = (shape: string, stock = '1x6'): string => `board:
  stock: ${stock}
  runs: across
  wide face: front
  length: 20 in | 500 mm
  at: { left: left, bottom: floor, front: front }
  shape:
    - ${shape.trim().replaceAll('\n', '\n    - ')}
`;

/** A post 20 in or 500 mm long, 3-1/2 × 1-1/2 in or 95 × 45 mm. */
const post = (shape: string): string => `post:
  stock: 2x4
  runs: up
  wide face: front
  length: 20 in | 500 mm
  at: { left: left, bottom: floor, front: front }
  shape:
    - ${shape.trim().replaceAll('\n', '\n    - ')}
`;

/** What they show, the part, and how many operations that is by hand (a row is as many as it has, a taper one a side). */
export const SHAPES: readonly (readonly [what: string, parts: string, operations: number])[] = [
  [
    'slots: through, slanting, in a row from the back, in an edge',
    board(`
{ slot: front, from: { across: left + 3 in | left + 75 mm, up: 2 in | 50 mm }, to: { across: left + 5 in | left + 125 mm, up: 2 in | 50 mm }, width: 1/4 in | 6 mm }
{ slot: front, from: { across: left + 8 in | left + 200 mm, up: 1 in | 25 mm }, to: { across: left + 9 in | left + 230 mm, up: 3 in | 80 mm }, width: 3/8 in | 10 mm, depth: 1/4 in | 6 mm }
{ slot: back, from: { across: left + 12 in | left + 300 mm }, to: { across: left + 13 in | left + 320 mm }, width: 1/4 in | 6 mm, depth: 3/8 in | 9 mm, repeated: 3, along: across, spacing: 2 in | 50 mm }
{ slot: top, from: { across: left + 6 in | left + 150 mm }, to: { across: left + 7 in | left + 180 mm }, width: 1/4 in | 6 mm, depth: 1/2 in | 12 mm }`),
    6,
  ],
  [
    'two slots alike, and one that slants the other way',
    board(`
{ slot: front, from: { across: left + 3 in | left + 75 mm, up: 2 in | 50 mm }, to: { across: left + 4 in | left + 100 mm, up: 3 in | 80 mm }, width: 1/4 in | 6 mm }
{ slot: front, from: { across: left + 15 in | left + 380 mm, up: 1 in | 25 mm }, to: { across: left + 16 in | left + 405 mm, up: 2 in | 55 mm }, width: 1/4 in | 6 mm }
{ slot: front, from: { across: left + 10 in | left + 250 mm, up: 3 in | 80 mm }, to: { across: left + 11 in | left + 275 mm, up: 2 in | 50 mm }, width: 1/4 in | 6 mm }`),
    3,
  ],
  [
    'tongues at an end and an edge, and a groove',
    board(`
{ tongue: left, thickness: 1/4 in | 6 mm, length: 3/8 in | 9 mm }
{ tongue: top, thickness: 5/16 in | 8 mm, length: 1/4 in | 6 mm }
{ groove: bottom, at: { front: board.front + 3/16 in | board.front + 5 mm, back: board.back - 1/4 in | board.back - 6 mm }, depth: 3/8 in | 9 mm }`),
    3,
  ],
  [
    'a hole in milled tongue-and-groove stock',
    board(
      '{ hole: front, at: { across: left + 4 in | left + 100 mm, up: 2 in | 50 mm }, diameter: 1 in | 25 mm }',
      '1x6 T&G',
    ),
    1,
  ],
  [
    'housings, a groove and a rebate that stop',
    board(`
{ housing: front, at: { left: left + 4 in | left + 100 mm, right: left + 4.75 in | left + 118 mm, top: 3 in | 80 mm }, depth: 1/4 in | 6 mm }
{ housing: back, at: { left: left + 10 in | left + 250 mm, right: left + 12 in | left + 300 mm, bottom: 1 in | 25 mm, top: 3 in | 80 mm }, depth: 3/8 in | 10 mm }
{ groove: front, at: { bottom: 4 in | 100 mm, top: 4.25 in | 106 mm, left: left + 2 in | left + 50 mm }, depth: 1/4 in | 6 mm }
{ rebate: { front: 3/8 in | 9 mm, top: 1/2 in | 12 mm }, at: { right: left + 15 in | left + 380 mm } }`),
    4,
  ],
  [
    'housings alike from both faces, stopped at both ends',
    board(`
{ housing: front, at: { left: left + 4 in | left + 100 mm, right: left + 5 in | left + 125 mm, bottom: 1 in | 25 mm, top: 4 in | 100 mm }, depth: 1/4 in | 6 mm }
{ housing: front, at: { left: left + 14 in | left + 350 mm, right: left + 15 in | left + 375 mm, bottom: 1 in | 25 mm, top: 4 in | 100 mm }, depth: 1/4 in | 6 mm }
{ housing: back, at: { left: left + 9 in | left + 225 mm, right: left + 10 in | left + 250 mm, bottom: 1 in | 25 mm, top: 4 in | 100 mm }, depth: 1/4 in | 6 mm }`),
    3,
  ],
  [
    'tapers of two sides with a mitre at the other end',
    post(`
{ taper: [left, right], end: bottom, from: 14 in | 350 mm, leaves: 2 in | 50 mm }
{ mitre: top, angle: 10 deg, long: left }`),
    3,
  ],
  [
    'tapers of two sides by different amounts',
    post(`
{ taper: left, end: bottom, from: 14 in | 350 mm, by: 1/2 in | 12 mm }
{ taper: right, end: bottom, from: 10 in | 250 mm, by: 1 in | 25 mm }`),
    2,
  ],
  [
    'tapers of four sides with a compound cut',
    post(`
{ taper: [left, right, front, back], end: bottom, from: 14 in | 350 mm, leaves: 1 in | 25 mm }
{ compound: top, mitre: 12 deg, bevel: 8 deg, long: [left, back] }`),
    5,
  ],
  [
    'tapers of two sides to a mitre whose corner they take off, and a steep compound cut',
    post(`
{ taper: [right, back], end: bottom, leaves: 1 in | 25 mm }
{ mitre: bottom, angle: 8 deg, long: right }
{ compound: top, mitre: 30 deg, bevel: 33.9 deg, long: [left, back] }`),
    4,
  ],
  [
    'tapers to both ends',
    post(`
{ taper: [left, right], end: bottom, from: 8 in | 200 mm, leaves: 2 in | 50 mm }
{ taper: [front], end: top, from: 12 in | 300 mm, leaves: 1 in | 30 mm }`),
    3,
  ],
  [
    'mitres at both ends and bevelled edges',
    board(`
{ mitre: left, angle: 45 deg, long: bottom }
{ mitre: right, angle: 22.5 deg, long: top }
{ bevel: top, angle: 15 deg, long: front }`),
    3,
  ],
  [
    'a hollow off the middle, a crown and rounded edges',
    board(`
{ arc: bottom, rise: 1 in | 25 mm, at: { left: left + 4 in | left + 100 mm, right: left + 14 in | left + 350 mm } }
{ arc: right, rise: 1/2 in | 12 mm, form: crown }
{ round: back, radius: 1/8 in | 3 mm }`),
    3,
  ],
  [
    'edges worked along an arch, into notches and round holes',
    board(`
{ arc: top, rise: 1 in | 25 mm, form: crown }
{ notch: { left: left, right: left + 2 in | left + 50 mm, top: 1-1/2 in | 40 mm } }
{ notch: { left: left + 10 in | left + 250 mm, right: left + 12 in | left + 300 mm, top: 3/4 in | 20 mm } }
{ hole: front, at: { across: left + 5 in | left + 125 mm, up: 2-1/2 in | 65 mm }, diameter: 1 in | 25 mm }
{ round: front, radius: 1/4 in | 6 mm, bearing: 3/8 in | 10 mm }
{ chamfer: [front holes, back holes], width: 1/16 in | 2 mm }
{ chamfer: back top, width: 1/8 in | 3 mm }`),
    7,
  ],
  [
    'edges chamfered and rounded',
    board(`
{ chamfer: [front top, front bottom], width: 1/8 in | 3 mm }
{ round: [back left], radius: 1/4 in | 6 mm }`),
    2,
  ],
  [
    'holes of all kinds in all sides',
    board(`
{ hole: front, at: { across: left + 4 in | left + 100 mm, up: 2 in | 50 mm }, diameter: 1/2 in | 12 mm, depth: 1/2 in | 12 mm, lean: { left: 10 deg } }
{ hole: front, at: { across: left + 6 in | left + 150 mm, up: 3 in | 80 mm }, diameter: 1/2 in | 12 mm, depth: 1/2 in | 12 mm, lean: { top: 12 deg, right: 5 deg } }
{ hole: back, at: { across: left + 8 in | left + 200 mm, up: 3 in | 75 mm }, diameter: 5/16 in | 8 mm, depth: 1/2 in | 12 mm }
{ hole: bottom, at: { across: left + 10 in | left + 250 mm }, diameter: 1/4 in | 6 mm, depth: 1 in | 25 mm, lean: { left: 20 deg } }
{ hole: top, at: { across: left + 12 in | left + 300 mm }, diameter: 1/4 in | 6 mm, depth: 1 in | 25 mm }
{ hole: right, at: { up: 2 in | 50 mm }, diameter: 9/64 in | 3.5 mm, depth: 1 in | 25 mm }
{ hole: front, at: { across: left + 15 in | left + 380 mm, up: 2 in | 50 mm }, diameter: 3/16 in | 5 mm, countersink: { diameter: 3/8 in | 10 mm } }`),
    7,
  ],
  [
    'holes in a grid',
    board(`
{ hole: front, at: { across: left + 2 in | left + 50 mm, up: 1 in | 25 mm }, diameter: 1/4 in | 6 mm, repeated: 5, along: across, spacing: 3 in | 75 mm }
{ hole: front, at: { across: left + 2 in | left + 50 mm, up: 4 in | 100 mm }, diameter: 1/4 in | 6 mm, repeated: 5, along: across, spacing: 3 in | 75 mm }`),
    10,
  ],
];
