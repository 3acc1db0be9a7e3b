/** Which lot lines are front, side and rear. */
import type { Point, Ring } from "../geometry/plane.js";
import type { StudyRequest } from "../request/request.js";
import type { Survey } from "../survey/survey.js";
import type { EdgeRole, Lot } from "./lot.js";

/** A street shot or the car's entry this close to a lot line makes it the likely frontage. Judgement. */
export const NEAR_STREET_FT = 60;
/** A lot line is a rear line when its outward side looks within 60° of straight away from the street. Judgement. */
const REAR_COSINE = -0.5;

export interface EdgeRoles {
  readonly roles: readonly EdgeRole[];
  readonly frontage: readonly boolean[];
  readonly origin: Lot["frontageOrigin"];
}

/**
 * Front lines are those the caller numbered; else the line nearest the car's entry, or the one nearest most street
 * shots; else nobody knows, and every line is called a side. Rear lines look away from the front ones; when none does,
 * the line farthest from the front is the rear.
 */
export function findEdgeRoles(survey: Survey, request: StudyRequest): EdgeRoles {
  const { boundary, inputEdge } = survey;
  const given = request.access.frontage;
  const numbered = boundary.map((_, i) => given?.includes(inputEdge[i]!) ?? false);
  if (numbered.includes(true))
    return { roles: roles(boundary, inputEdge, numbered), frontage: numbered, origin: "given" };
  const guess = guessFrontLine(survey);
  if (guess === null)
    return { roles: boundary.map(() => "side"), frontage: boundary.map(() => false), origin: "unknown" };
  const guessed = inputEdge.map((line) => line === guess);
  return { roles: roles(boundary, inputEdge, guessed), frontage: guessed, origin: "guessed" };
}

/** The caller's number of the likely front line: a curve is one line of many chords. */
function guessFrontLine({ boundary, inputEdge, accessPoint, features }: Survey): number | null {
  const hints = accessPoint
    ? [accessPoint]
    : features.filter(({ kind }) => kind === "street").map(({ at }) => at);
  const votes = new Array<number>(Math.max(...inputEdge) + 1).fill(0);
  for (const hint of hints) {
    const distances = boundary.map((_, i) => distanceToEdge(boundary, i, hint));
    const nearest = distances.indexOf(Math.min(...distances));
    if (distances[nearest]! <= NEAR_STREET_FT) votes[inputEdge[nearest]!]!++;
  }
  const most = Math.max(...votes);
  return most > 0 ? votes.indexOf(most) : null;
}

function roles(boundary: Ring, inputEdge: readonly number[], frontage: readonly boolean[]): EdgeRole[] {
  let east = 0;
  let north = 0;
  /** Way of each line from its first corner to its last: a curve looks where its chord does. */
  const ways = new Map<number, readonly [number, number]>();
  boundary.forEach((_, i) => {
    const [dx, dy] = edgeVector(boundary, i);
    const [x, y] = ways.get(inputEdge[i]!) ?? [0, 0];
    ways.set(inputEdge[i]!, [x + dx, y + dy]);
    if (!frontage[i]) return;
    east += dy; // outward of a counter-clockwise ring is to the right
    north -= dx;
  });
  const length = Math.hypot(east, north);
  const result = boundary.map((_, i): EdgeRole => {
    if (frontage[i]) return "front";
    const [dx, dy] = ways.get(inputEdge[i]!)!;
    const apart = length * Math.hypot(dx, dy);
    const cosine = apart > 0 ? (dy * east - dx * north) / apart : 0;
    return cosine <= REAR_COSINE ? "rear" : "side";
  });
  if (result.includes("rear")) return result;
  const front = boundary.findIndex((_, i) => frontage[i]);
  const far = boundary.map((_, i) =>
    frontage[i] ? -1 : distanceToEdge(boundary, front, midpoint(boundary, i)),
  );
  const farthest = far.indexOf(Math.max(...far));
  if (!(far[farthest]! > 0)) return result;
  return result.map((role, i) => (inputEdge[i] === inputEdge[farthest] ? "rear" : role));
}

function edgeVector(ring: Ring, i: number): [number, number] {
  const [ax, ay] = ring[i]!;
  const [bx, by] = ring[(i + 1) % ring.length]!;
  return [bx - ax, by - ay];
}

function midpoint(ring: Ring, i: number): Point {
  const [ax, ay] = ring[i]!;
  const [bx, by] = ring[(i + 1) % ring.length]!;
  return [(ax + bx) / 2, (ay + by) / 2];
}

function distanceToEdge(ring: Ring, i: number, [x, y]: Point): number {
  const [ax, ay] = ring[i]!;
  const [dx, dy] = edgeVector(ring, i);
  const t = Math.min(1, Math.max(0, ((x - ax) * dx + (y - ay) * dy) / (dx * dx + dy * dy)));
  return Math.hypot(x - ax - t * dx, y - ay - t * dy);
}
