/**
 * Published cases of cutting one sheet by through cuts for the most value: OR-Library, files gcut and cgcut (J. E. Beasley, "OR-Library:
 * distributing test problems by electronic mail", J. Opl Res. Soc. 41, 1990). Of the thirteen gcut files those stand here whose data
 * could be had as plain text.
 */

/** A sheet and what can be cut from it. */
export interface ValueCase {
  readonly name: string;
  readonly length: number;
  readonly width: number;
  /** Length, width; value and greatest number where they aren't area and unlimited. */
  readonly parts: readonly (readonly [length: number, width: number, value?: number, most?: number])[];
  /** The most value; with parts that may turn. */
  readonly best: number;
  readonly turned?: number;
}

/** Sizes from a text of pairs. */
const pairs = (text: string): [number, number][] =>
  text
    .trim()
    .split(/\s+/u)
    .map((pair) => pair.split('x').map(Number) as [number, number]);

const gcut = (name: string, side: number, best: number, turned: number, text: string): ValueCase => ({
  name,
  length: side,
  width: side,
  parts: pairs(text),
  best,
  turned,
});

/**
 * Value is area, each part as often as it fits. Data: J. E. Beasley, "Algorithms for unconstrained two-dimensional guillotine cutting", J. Opl
 * Res. Soc. 36 (1985) 297-306. Optima, with fixed parts and with parts that may turn: table published with G. F. Cintra, F. K. Miyazawa,
 * Y. Wakabayashi and E. C. Xavier, "Algorithms for two-dimensional cutting stock and strip packing problems using dynamic programming and
 * column generation", Eur. J. Opl Res. 191 (2008) 61-85.
 */
export const unlimited: readonly ValueCase[] = [
  gcut(
    'gcut1',
    250,
    56_460,
    58_136,
    '167x184 114x118 167x152 83x140 70x86 143x166 120x160 66x148 87x141 69x165',
  ),
  gcut(
    'gcut2',
    250,
    60_536,
    60_611,
    `120x133 135x186 86x75 103x73 66x85 135x97 91x175 131x176 71x176 153x72 87x148 168x107 118x90 140x109 132x159 152x93 135x68
     121x158 68x94 155x76`,
  ),
  gcut(
    'gcut3',
    250,
    61_036,
    61_626,
    `66x80 164x107 64x184 121x86 163x135 85x98 81x102 103x186 152x106 176x139 111x118 69x169 146x133 112x112 133x160 63x129 163x152
     110x155 96x136 92x142 84x143 119x133 71x71 146x84 93x86 89x86 101x146 172x73 73x169 99x99`,
  ),
  gcut(
    'gcut4',
    250,
    61_698,
    62_265,
    `139x103 166x99 88x74 174x139 128x109 175x179 62x82 178x87 121x77 125x97 73x84 69x97 122x159 66x69 111x118 165x86 71x83 163x162
     67x132 121x152 68x150 138x124 141x105 183x122 171x63 101x64 103x95 110x107 184x158 85x97 86x92 127x155 92x147 106x97 177x108
     164x150 68x84 62x151 123x134 158x178 70x140 173x117 147x136 141x145 84x164 144x141 92x103 156x98 160x111 127x131`,
  ),
  gcut(
    'gcut5',
    500,
    246_000,
    246_000,
    '198x205 179x155 364x236 272x147 352x145 343x245 132x174 164x250 282x356 342x151',
  ),
  gcut(
    'gcut6',
    500,
    238_998,
    240_951,
    `313x305 292x222 330x253 212x256 132x189 149x296 294x137 225x345 345x220 337x177 189x300 234x321 335x272 354x244 149x169 355x165
     260x220 210x241 194x372 287x134`,
  ),
  gcut(
    'gcut8',
    500,
    246_633,
    247_787,
    `277x242 233x177 182x216 147x134 213x127 315x212 261x175 210x281 243x256 159x314 217x147 260x349 222x199 296x127 263x302 226x250
     264x344 237x179 245x137 137x328 321x154 200x174 270x128 299x179 165x370 198x182 155x295 278x219 184x155 187x270 208x293 261x204
     344x168 213x135 362x162 362x374 237x322 281x308 155x344 210x163 325x225 360x225 346x347 131x144 284x284 262x228 146x178 254x164
     332x238 313x304`,
  ),
  gcut(
    'gcut10',
    1000,
    982_025,
    982_025,
    `730x300 269x717 463x369 642x464 453x329 455x667 506x482 560x362 483x260 693x345 381x510 456x586 457x453 707x658 639x650 691x359
     434x700 576x291 728x739 545x742`,
  ),
];

/**
 * Each part with a value and a greatest number. Data and optima: N. Christofides and C. Whitlock, "An algorithm for two-dimensional
 * cutting problems", Operations Research 25 (1977) 30-44, table 2.
 */
export const limited: readonly ValueCase[] = [
  {
    name: 'cgcut1',
    length: 15,
    width: 10,
    parts: [
      [8, 4, 66, 2],
      [3, 7, 35, 1],
      [8, 2, 24, 3],
      [3, 4, 17, 5],
      [3, 3, 11, 2],
      [3, 2, 8, 2],
      [2, 1, 2, 1],
    ],
    best: 244,
  },
  {
    name: 'cgcut2',
    length: 40,
    width: 70,
    parts: [
      [21, 22, 582, 1],
      [31, 13, 403, 1],
      [9, 35, 315, 3],
      [9, 24, 216, 3],
      [30, 7, 210, 2],
      [11, 13, 143, 3],
      [10, 14, 140, 1],
      [14, 8, 110, 3],
      [12, 8, 94, 3],
      [13, 7, 90, 3],
    ],
    best: 2892,
  },
  {
    name: 'cgcut3',
    length: 40,
    width: 70,
    parts: [
      [31, 43, 500, 4],
      [30, 41, 480, 2],
      [29, 39, 460, 4],
      [28, 38, 440, 4],
      [27, 37, 420, 3],
      [26, 36, 410, 4],
      [25, 35, 400, 3],
      [24, 34, 380, 4],
      [33, 23, 360, 4],
      [22, 32, 340, 3],
      [31, 21, 320, 3],
      [29, 18, 300, 3],
      [17, 27, 280, 2],
      [15, 24, 240, 2],
      [16, 25, 260, 4],
      [15, 24, 240, 1],
      [23, 14, 220, 4],
      [21, 12, 180, 3],
      [19, 11, 160, 4],
      [9, 17, 140, 1],
    ],
    best: 1860,
  },
];
