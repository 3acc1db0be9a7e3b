/** Which single call, misread, would explain that a description does not close. */
import { chordLength } from "./arc.js";
import { type Course, walk } from "./traverse.js";

/** A changed call explains the misclosure when the line then closes this well. */
const EXPLAINS = 2_000;

/** Every slip on every call is a walk round the lot: not for lots of a thousand sides. */
const MOST_TRIED = 200;

/** Tries on every call the usual slips of pen and eye; the one that closes best, if it closes at all. */
export function likelyWrongCall(courses: readonly Course[]): { call: number; how: string } | null {
  if (courses.length > MOST_TRIED) return null;
  let best: { call: number; how: string; precision: number } | null = null;
  courses.forEach((course, call) => {
    for (const { how, changed } of slipsOf(course)) {
      const { misclosure, perimeter } = walk(courses.map((c, i) => (i === call ? changed : c)));
      const precision = perimeter / Math.max(misclosure.length, 1e-9);
      if (precision > EXPLAINS && precision > (best?.precision ?? 0)) best = { call, how, precision };
    }
  });
  return best;
}

function slipsOf(course: Course): { how: string; changed: Course }[] {
  const { azimuthDeg, length, curve } = course;
  const turned = (deg: number) => ({ ...course, azimuthDeg: (deg + 360) % 360 });
  const slips = [
    { how: "had east and west exchanged", changed: turned(-azimuthDeg) },
    { how: "had north and south exchanged", changed: turned(180 - azimuthDeg) },
    { how: "ran the other way", changed: turned(azimuthDeg + 180) },
    { how: "were ten times as long", changed: { ...course, length: length * 10 } },
    { how: "were a tenth as long", changed: { ...course, length: length / 10 } },
    { how: "were 100 longer", changed: { ...course, length: length + 100 } },
    { how: "were 100 shorter", changed: { ...course, length: length - 100 } },
  ];
  if (!curve) return slips;
  const turn = curve.turn === "right" ? "left" : "right";
  const across = curve.turn === "right" ? -curve.deltaDeg : curve.deltaDeg;
  const mirrored = {
    ...turned(azimuthDeg + across),
    length: chordLength(curve),
    curve: { ...curve, turn } as const,
  };
  return [...slips, { how: `turned ${turn}`, changed: mirrored }];
}
