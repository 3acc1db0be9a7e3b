/** Pads of the brief that enclose no ground or share a name: told with the pad's name before anything is computed. */
import type { Problem } from "../assumptions.js";
import { type Point, perimeterFt, type Ring, signedAreaFt2 } from "../geometry/plane.js";
import type { StudyRequest } from "./request.js";

/** More corners than any pad has. */
const MOST_CORNERS = 2000;
/** Area ÷ perimeter², the same in any unit and in degrees, below which the corners lie on one line. A pad of 60 by 40 ft has 0.06. */
const THINNEST = 2e-5;

/** One problem for each pad that has the name of one before it, or whose ring is no simple polygon; corners repeated in a row were taken once before. */
export function checkPads({ brief }: StudyRequest): Problem[] {
  const pads = brief.pads ?? [];
  return pads.flatMap(({ name, ring }, i): Problem[] => {
    if (pads.findIndex((other) => other.name === name) < i)
      return [
        {
          code: "pad-name-twice",
          where: `request.brief.pads[${i}].name`,
          message: `Two pads are called ${name}: each becomes a way to build that is told by its name.`,
          remedy: "Give each pad a name of its own.",
        },
      ];

    const refuse = (code: string, message: string, remedy: string) => [
      { code, where: `request.brief.pads[${i}].ring`, message: `Pad ${name}: ${message}`, remedy },
    ];
    if (ring.length < 3)
      return refuse(
        "pad-too-few-corners",
        `${ring.length} different corner${ring.length === 1 ? "" : "s"}; a pad needs three.`,
        "Send every corner of the pad in order.",
      );
    if (ring.length > MOST_CORNERS)
      return refuse(
        "pad-too-many-corners",
        `${ring.length} corners; at most ${MOST_CORNERS} are read.`,
        "Send fewer corners; curves to a tenth of a foot need no more.",
      );
    if (crossesItself(ring))
      return refuse(
        "pad-crosses-itself",
        "its outline crosses or touches itself.",
        "List the corners in order round the pad, clockwise or counter-clockwise, each once.",
      );
    if (Math.abs(signedAreaFt2(ring)) < THINNEST * perimeterFt(ring) ** 2)
      return refuse(
        "pad-no-area",
        "its corners lie on one line.",
        "Check eastings and northings; a ring is [easting, northing] by corner.",
      );
    return [];
  });
}

/** The ring without corners that repeat the one before them, the first after the last included. */
export function withoutRepeats(ring: Ring): Ring {
  return ring.filter(([x, y], i) => {
    const [px, py] = ring[(i + ring.length - 1) % ring.length]!;
    return x !== px || y !== py;
  });
}

function crossesItself(ring: Ring): boolean {
  const n = ring.length;
  const at = (i: number) => ring[i % n]!;
  for (let i = 0; i < n; i++) {
    if (runsBack(at(i), at(i + 1), at(i + 2))) return true;
    for (let j = i + 2; j < n; j++)
      if ((j + 1) % n !== i && meet(at(i), at(i + 1), at(j), at(j + 1))) return true;
  }
  return false;
}

function turn(a: Point, b: Point, c: Point): number {
  return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
}

function runsBack(a: Point, b: Point, c: Point): boolean {
  const forward = (b[0] - a[0]) * (c[0] - b[0]) + (b[1] - a[1]) * (c[1] - b[1]);
  return forward < 0 && Math.abs(turn(a, b, c)) <= 1e-9 * Math.abs(forward);
}

/** True when two segments share a place. */
function meet(a: Point, b: Point, c: Point, d: Point): boolean {
  for (const k of [0, 1] as const)
    if (Math.max(a[k], b[k]) < Math.min(c[k], d[k]) || Math.max(c[k], d[k]) < Math.min(a[k], b[k]))
      return false;
  return turn(a, b, c) * turn(a, b, d) <= 0 && turn(c, d, a) * turn(c, d, b) <= 0;
}
