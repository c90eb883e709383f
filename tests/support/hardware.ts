/** Hardware for tests; sizes and prices are invented. */
import type { HardwareItem, JointKind } from '../../src/read/types.ts';
import { inches, type Length, mm } from '../../src/units.ts';

const origin = { file: 'content/hardware/screws.yaml', line: 1, column: 1 };

const fastener = (key: string, joint: JointKind, from: Length, to: Length): HardwareItem => ({
  key,
  name: `${key[0]?.toUpperCase()}${key.slice(1).replaceAll('-', ' ')}`,
  length: inches(1.25),
  fits: { joint, from, to },
  package: 50,
  price: { USD: 7.5 },
  regions: [],
  outdoors: true,
  origin,
});

export const pocketScrew = fastener('pocket-screw', 'pocket screws', mm(17), mm(20));
export const woodScrew = fastener('wood-screw', 'screws', mm(17), mm(26));
export const longScrew = fastener('long-screw', 'screws', mm(35), mm(40));

export const hook: HardwareItem = {
  key: 'hook',
  name: 'Hook',
  package: 5,
  price: { USD: 6 },
  regions: [],
  outdoors: true,
  link: 'https://hooks.example/one',
  origin,
};

export const testHardware: readonly HardwareItem[] = [pocketScrew, woodScrew, longScrew];
