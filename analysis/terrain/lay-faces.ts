/** The surveyor's own triangulation, laid on the ground shots that are left of its corners. */
import Flatbush from "flatbush";
import type { GroundPoints, SurveyFaces } from "../survey/survey.js";

/** A corner dropped as a repeat lies this near the shot that was kept. */
const SAME_PLACE_FT = 0.02;

export interface LaidFaces {
  /** Sides of the faces as pairs of shots, each once; those of corners that were left out are missing. */
  readonly sides: Uint32Array;
  /** Whether a place lies on a face. */
  readonly isDrawn: (eastFt: number, northFt: number) => boolean;
}

/**
 * What a triangulation of the shots needs to repeat the faces: their sides, and where there are none. Around a corner
 * that was left out the sides of its neighbours stay, so only the ground between them is joined anew.
 */
export function layFaces(faces: SurveyFaces, ground: GroundPoints): LaidFaces {
  const { eastFt, northFt, corners } = faces;
  const shots = new Flatbush(ground.count);
  for (let i = 0; i < ground.count; i++)
    shots.add(ground.eastFt[i]!, ground.northFt[i]!, ground.eastFt[i]!, ground.northFt[i]!);
  shots.finish();
  const shotOf = Int32Array.from(
    eastFt,
    (east, v) => shots.neighbors(east, northFt[v]!, 1, SAME_PLACE_FT)[0] ?? -1,
  );
  const pairs = new Set<number>();
  // corners far outside, taken for blunders, would leave the boxes of all others in one heap
  const near: number[] = [];
  for (let e = 0; e < corners.length; e += 3) {
    const abc = [corners[e]!, corners[e + 1]!, corners[e + 2]!] as const;
    for (const [p, q] of [
      [abc[0], abc[1]],
      [abc[1], abc[2]],
      [abc[2], abc[0]],
    ] as const) {
      const a = Math.min(shotOf[p]!, shotOf[q]!);
      const b = Math.max(shotOf[p]!, shotOf[q]!);
      if (a >= 0 && a !== b) pairs.add(a * ground.count + b);
    }
    const isNear = (v: number) =>
      shotOf[v]! >= 0 ||
      (eastFt[v]! >= shots.minX &&
        eastFt[v]! <= shots.maxX &&
        northFt[v]! >= shots.minY &&
        northFt[v]! <= shots.maxY);
    if (abc.every(isNear)) near.push(e);
  }
  const sides = new Uint32Array(2 * pairs.size);
  let n = 0;
  for (const pair of pairs) {
    sides[n++] = Math.floor(pair / ground.count);
    sides[n++] = pair % ground.count;
  }
  return { sides, isDrawn: findFace(faces, near) };
}

function findFace({ eastFt, northFt, corners }: SurveyFaces, near: readonly number[]): LaidFaces["isDrawn"] {
  if (near.length === 0) return () => false;
  const boxes = new Flatbush(near.length);
  for (const e of near) {
    const xs = [0, 1, 2].map((k) => eastFt[corners[e + k]!]!);
    const ys = [0, 1, 2].map((k) => northFt[corners[e + k]!]!);
    boxes.add(Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys));
  }
  boxes.finish();
  const turn = (p: number, q: number, x: number, y: number) =>
    (eastFt[q]! - eastFt[p]!) * (y - northFt[p]!) - (northFt[q]! - northFt[p]!) * (x - eastFt[p]!);
  const holds = (e: number, x: number, y: number) => {
    const a = turn(corners[e]!, corners[e + 1]!, x, y);
    const b = turn(corners[e + 1]!, corners[e + 2]!, x, y);
    const c = turn(corners[e + 2]!, corners[e]!, x, y);
    return (a >= 0 && b >= 0 && c >= 0) || (a <= 0 && b <= 0 && c <= 0);
  };
  return (x, y) => boxes.search(x, y, x, y, (i) => holds(near[i]!, x, y)).length > 0;
}
