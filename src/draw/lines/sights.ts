/**
 * What is seen of a part's faces among others, kept from one picture to the next: a plan's steps look at more and more boards from the same
 * place, and what a face was covered by it still is. What comes out never depends on the pictures made before.
 */
import type { Loop, Solids } from '../../geometry/manifold.ts';
import type { PlacedPart } from '../../geometry/types.ts';
import { cavitiesOf } from './cavities.ts';
import { type Cover, coversFrom, type FlatFace, type FlatPart } from './covers.ts';
import { type Inside, insideOfHole, mouthFaces, reachesInto, seenThrough } from './mouths.ts';
import { keptFor } from './seen.ts';

/** What is known of a face among the parts looked at so far. */
interface Known {
  hidden: boolean;
  /** By the part that covers it. */
  readonly covers: Map<PlacedPart, readonly Cover[]>;
  /** What is left of it. */
  left?: readonly Loop[];
}

/** A hole: its mouths that look at the viewer, and the parts that reach into it. */
interface Hole {
  readonly mouths: readonly { readonly face: FlatFace; readonly known: Known }[];
  readonly inside: Inside | undefined;
  guests: readonly FlatPart[];
  /** The picture it was last looked at for, and whether that one covered more of it than the one before. */
  picture: number;
  changed: boolean;
}

type Kernel = Pick<Solids, 'united'>;

/** Cuts a face by what covers it. */
type LeftOf = (face: FlatFace, covers: readonly Cover[]) => readonly Loop[];

/** A picture in hand: all its parts in order, and those that weren't in the one before. */
interface Picture {
  readonly number: number;
  readonly all: readonly FlatPart[];
  readonly added: readonly FlatPart[];
  readonly kernel: Kernel;
  readonly leftOf: LeftOf;
}

const NOTHING: readonly Loop[] = [];
const fresh = (): Known => ({ hidden: false, covers: new Map() });
const sights = new WeakMap<PlacedPart, Map<string, Sight>>();

/** The sight of one part in one frame. */
export class Sight {
  private readonly own: FlatPart;
  private others = new Set<FlatPart>();
  private faces = new Map<number, Known>();
  private holes = new Map<number, Hole>();
  private pictures = 0;

  private constructor(own: FlatPart) {
    this.own = own;
  }

  /** The sight of a part in a frame, with what is known of it. */
  static of(own: FlatPart, key: string): Sight {
    const sight = keptFor(sights, own.part, key, () => new Sight(own));
    // The part's projection may have been let go and made again.
    return sight.own === own ? sight : new Sight(own);
  }

  /** What is seen of each of the part's faces among parts, itself one of them: nothing of one that is hidden. */
  among(all: readonly FlatPart[], kernel: Kernel, leftOf: LeftOf): (readonly Loop[])[] {
    const here = new Set(all);
    // Where a part is gone, all is looked at anew.
    if (![...this.others].every((other) => here.has(other))) {
      this.others = new Set();
      this.faces = new Map();
      this.holes = new Map();
    }
    const added = all.filter((other) => !this.others.has(other));
    const picture: Picture = { number: ++this.pictures, all, added, kernel, leftOf };
    this.others = here;
    return this.own.faces.map((face) => this.loops(face, picture));
  }

  private loops(face: FlatFace, picture: Picture): readonly Loop[] {
    const known = this.faces.get(face.number) ?? fresh();
    this.faces.set(face.number, known);
    if (known.hidden) return NOTHING;
    const number = cavitiesOf(this.own.part).of[face.number] as number;
    const hole = number < 0 ? undefined : this.hole(number, picture);
    if (hole?.mouths.every((mouth) => mouth.known.hidden)) known.hidden = true;
    else if (hole?.inside && face.face.convex) {
      if (hole.changed || known.left === undefined) this.lookThrough(face, known, hole, hole.inside, picture);
    } else {
      const state = cover(face, known, picture);
      if (state === 'more' || (state === 'same' && known.left === undefined))
        known.left = picture.leftOf(face, coversIn(known, this.own, picture));
    }
    if (known.hidden || known.left === undefined || known.left.length === 0) {
      known.hidden = true;
      return NOTHING;
    }
    return known.left;
  }

  private lookThrough(face: FlatFace, known: Known, hole: Hole, inside: Inside, picture: Picture): void {
    const covering = hole.mouths.flatMap((mouth) => coversIn(mouth.known, this.own, picture));
    const through = seenThrough(face, inside, covering, hole.guests, picture.kernel);
    known.left = through === undefined ? NOTHING : picture.leftOf(through.face, through.covers);
  }

  /** A hole as it is in a picture. */
  private hole(number: number, picture: Picture): Hole {
    const had = this.holes.get(number);
    if (had?.picture === picture.number) return had;
    const { own } = this;
    const faces = had ? [] : mouthFaces(own, number);
    const hole: Hole = had ?? {
      mouths: faces.map((face) => ({ face, known: fresh() })),
      inside: insideOfHole(own, number, faces),
      guests: [],
      picture: 0,
      changed: false,
    };
    this.holes.set(number, hole);
    hole.picture = picture.number;
    const states = hole.mouths.map(({ face, known }) =>
      known.hidden ? 'hidden' : cover(face, known, picture),
    );
    hole.changed = states.includes('more');
    const { inside } = hole;
    if (!inside) return hole;
    const guests = picture.added.filter((other) => other !== own && reachesInto(other.part, inside.bounds));
    if (guests.length === 0) return hole;
    hole.changed = true;
    hole.guests = picture.all.filter((other) => hole.guests.includes(other) || guests.includes(other));
    return hole;
  }
}

/** Notes what the new parts of a picture cover of a face: all of it, more than before, or nothing. */
function cover(face: FlatFace, known: Known, { added, kernel }: Picture): 'hidden' | 'more' | 'same' {
  let state: 'more' | 'same' = 'same';
  for (const other of added) {
    const covers: Cover[] = [];
    if (coversFrom(face, other, kernel, covers)) {
      known.hidden = true;
      known.covers.clear();
      return 'hidden';
    }
    if (covers.length === 0) continue;
    known.covers.set(other.part, covers);
    state = 'more';
  }
  return state;
}

/** What covers a face, in the order of the parts, its own part first. */
function coversIn({ covers }: Known, own: FlatPart, { all }: Picture): Cover[] {
  if (covers.size === 0) return [];
  const others = all.flatMap((other) => (other === own ? [] : (covers.get(other.part) ?? [])));
  return [...(covers.get(own.part) ?? []), ...others];
}
