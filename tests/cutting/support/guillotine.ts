/**
 * Published cases of cutting one sheet by through cuts for the most value: OR-Library, files gcut and cgcut (J. E. Beasley, "OR-Library:
 * distributing test problems by electronic mail", J. Opl Res. Soc. 41, 1990). gcut13 (sheets 3000 by 3000) is left out: it
 * takes too long for a test.
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

const gcut = (
  name: string,
  side: number,
  best: number,
  turned: number | undefined,
  text: string,
): ValueCase => ({
  name,
  length: side,
  width: side,
  parts: pairs(text),
  best,
  ...(turned === undefined ? {} : { turned }),
});

/**
 * Value is area, each part as often as it fits. Data: J. E. Beasley, "Algorithms for unconstrained two-dimensional guillotine cutting", J. Opl
 * Res. Soc. 36 (1985) 297-306. Optima, with fixed parts and with parts that may turn: table published with G. F. Cintra, F. K. Miyazawa,
 * Y. Wakabayashi and E. C. Xavier, "Algorithms for two-dimensional cutting stock and strip packing problems using dynamic programming and
 * column generation", Eur. J. Opl Res. 191 (2008) 61-85. Those of gcut7, 9, 11 and 12 are from memory of it; that of gcut12 with parts that may turn
 * isn't known to us and is left out.
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
    'gcut7',
    500,
    242_567,
    245_866,
    `348x220 255x184 191x249 212x194 348x322 171x369 206x327 221x277 250x202 205x226 193x280 364x311 264x224 244x347 270x338
     224x236 168x177 285x347 315x294 247x219 315x302 129x147 268x273 350x352 186x258 365x374 145x259 284x184 129x198 146x351`,
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
    'gcut9',
    1000,
    971_100,
    971_100,
    '310x426 673x468 426x463 325x498 555x540 292x455 343x341 362x491 305x688 459x607',
  ),
  gcut(
    'gcut10',
    1000,
    982_025,
    982_025,
    `730x300 269x717 463x369 642x464 453x329 455x667 506x482 560x362 483x260 693x345 381x510 456x586 457x453 707x658 639x650 691x359
     434x700 576x291 728x739 545x742`,
  ),
  gcut(
    'gcut11',
    1000,
    980_096,
    980_096,
    `541x745 344x301 413x294 266x341 543x388 367x701 526x707 286x706 614x289 348x592 673x431 475x362 562x439 530x638 609x375
     540x274 486x634 272x377 623x306 266x714 341x336 340x296 531x479 571x589 674x496 560x497 509x389 650x332 474x285 419x503`,
  ),
  gcut(
    'gcut12',
    1000,
    979_986,
    undefined,
    `572x665 482x640 264x594 349x566 276x660 745x422 434x622 446x433 668x506 405x635 486x320 554x549 392x491 459x528 426x579
     728x359 644x465 382x323 268x352 324x512 277x426 254x685 483x532 678x414 546x590 716x640 542x400 634x596 497x696 417x300
     290x605 321x520 543x290 599x269 467x679 583x421 729x723 465x590 614x585 446x327 734x616 479x606 656x278 537x355 604x519
     746x596 439x281 339x405 273x526 625x568`,
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
