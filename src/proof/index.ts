/** The proof: every rule over a finished plan, in one list. */
import type { Diagnostic } from '../diagnostics.ts';
import { bought } from './bought.ts';
import { cautions } from './cautions.ts';
import { coincide } from './coincide.ts';
import { crowding } from './crowding.ts';
import { driver } from './driver.ts';
import { fittingRoom } from './fitting-room.ts';
import { fittings } from './fittings.ts';
import { lids } from './lids.ts';
import { loose } from './loose.ts';
import { meeting } from './meeting.ts';
import { outside } from './outside.ts';
import { overlap } from './overlap.ts';
import { pieces } from './pieces.ts';
import { roundings } from './roundings.ts';
import { screws } from './screws.ts';
import { stepOrder } from './step-order.ts';
import type { ProofInput, Rule } from './types.ts';
import { web } from './web.ts';

const RULES: readonly Rule[] = [
  coincide,
  pieces,
  overlap,
  loose,
  outside,
  web,
  screws,
  meeting,
  crowding,
  driver,
  fittings,
  fittingRoom,
  lids,
  bought,
  stepOrder,
  cautions,
  roundings,
];

/** Findings of all rules for one edition, in the rules' order; the report sorts them. */
export function proofPlan(input: ProofInput): Diagnostic[] {
  const edition = input.plan.edition.key;
  return RULES.flatMap((rule) => rule(input)).map((finding) => ({ ...finding, edition }));
}

export type { Overlap, ProofInput, Rule } from './types.ts';
