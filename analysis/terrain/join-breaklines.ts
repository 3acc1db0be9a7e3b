/** Break lines (ridges, swales, tops and toes of banks) made ready for triangulation: cleaned, cut and joined to the shots. */
import Flatbush from "flatbush";
import type { Point3 } from "../geometry/plane.js";
import type { GroundPoints, SurveyWarning } from "../survey/survey.js";

/** Points of the ground and the sides that triangles may not cross. */
export interface JoinedGround {
  readonly eastFt: Float64Array;
  readonly northFt: Float64Array;
  readonly elevFt: Float64Array;
  /** Pairs of point numbers. */
  readonly sides: readonly (readonly [number, number])[];
  readonly warnings: readonly SurveyWarning[];
}

/** Survey shots are read to 0.01 ft: nearer ones are the same place, and a shot this near a line lies on it. */
const COINCIDENT_FT = 0.01;
/** Heights at one place that differ by more are worth a warning. */
const HEIGHTS_DIFFER_FT = 0.1;
/** A break line is straight between its points, so points are set on it this far apart at most. */
const LONGEST_PIECE_FT = 25;

/**
 * Ground shots and break lines as one set of points and the sides between them. Line points that fall on a shot use the
 * shot (and its height); lines are bent through shots and other lines' points that lie on them; where two lines cross a
 * point is added at the mean of their heights. Every repair is counted in a warning.
 */
export function joinBreaklines(ground: GroundPoints, lines: readonly (readonly Point3[])[]): JoinedGround {
  if (lines.length === 0) return { ...ground, sides: [], warnings: [] };
  const points = new PointStore(ground);
  const segments = lines.flatMap((line) => points.addLine(line));
  if (segments.length === 0) return { ...points.columns(), sides: [], warnings: points.warnings() };
  const boxes = new Flatbush(segments.length);
  for (const { a, b } of segments) {
    const [ax, ay] = points.at(a);
    const [bx, by] = points.at(b);
    boxes.add(Math.min(ax, bx), Math.min(ay, by), Math.max(ax, bx), Math.max(ay, by));
  }
  boxes.finish();
  bendThroughPoints(points, segments, boxes);
  cutCrossings(points, segments, boxes);
  const sides = new Map<string, [number, number]>();
  for (const { a, b, cuts } of segments) {
    const along = [a, ...cuts.sort((p, q) => p.t - q.t).map(({ point }) => point), b];
    for (let i = 1; i < along.length; i++) {
      const from = Math.min(along[i - 1]!, along[i]!);
      const to = Math.max(along[i - 1]!, along[i]!);
      if (from !== to) sides.set(`${from} ${to}`, [from, to]);
    }
  }
  return { ...points.columns(), sides: [...sides.values()], warnings: points.warnings() };
}

interface Segment {
  readonly a: number;
  readonly b: number;
  /** Points the segment is led through, at share t of its length. */
  readonly cuts: { readonly t: number; readonly point: number }[];
}

class PointStore {
  readonly #ground: GroundPoints;
  readonly #added: Point3[] = [];
  readonly #places = new Map<number, number>();
  #largestDifferenceFt = 0;
  bent = 0;
  bentDifferenceFt = 0;
  crossings = 0;
  crossingDifferenceFt = 0;

  constructor(ground: GroundPoints) {
    this.#ground = ground;
    for (let i = 0; i < ground.count; i++)
      this.#places.set(this.#placeKey(ground.eastFt[i]!, ground.northFt[i]!), i);
  }

  get count(): number {
    return this.#ground.count + this.#added.length;
  }

  at(i: number): Point3 {
    const { count, eastFt, northFt, elevFt } = this.#ground;
    return i < count ? [eastFt[i]!, northFt[i]!, elevFt[i]!] : this.#added[i - count]!;
  }

  /** Number of the point at this place, new when there is none yet. */
  add(point: Point3): number {
    const key = this.#placeKey(point[0], point[1]);
    const known = this.#places.get(key);
    if (known !== undefined) {
      this.#largestDifferenceFt = Math.max(this.#largestDifferenceFt, Math.abs(this.at(known)[2] - point[2]));
      return known;
    }
    this.#added.push(point);
    this.#places.set(key, this.count - 1);
    return this.count - 1;
  }

  /** One number for all points in the same square of 0.01 ft, exact within 60 miles of the first shot. */
  #placeKey(eastFt: number, northFt: number): number {
    const col = Math.round((eastFt - this.#ground.eastFt[0]!) / COINCIDENT_FT);
    const row = Math.round((northFt - this.#ground.northFt[0]!) / COINCIDENT_FT);
    return col * 2 ** 26 + row;
  }

  addLine(line: readonly Point3[]): Segment[] {
    const along: number[] = [];
    line.forEach((to, i) => {
      const from = line[i - 1];
      const pieces = from ? Math.ceil(Math.hypot(to[0] - from[0], to[1] - from[1]) / LONGEST_PIECE_FT) : 1;
      for (let k = 1; from && k < pieces; k++) {
        const t = k / pieces;
        along.push(
          this.add([
            from[0] + t * (to[0] - from[0]),
            from[1] + t * (to[1] - from[1]),
            from[2] + t * (to[2] - from[2]),
          ]),
        );
      }
      along.push(this.add(to));
    });
    return along.slice(1).flatMap((b, i) => (along[i] === b ? [] : [{ a: along[i]!, b, cuts: [] }]));
  }

  columns(): Pick<JoinedGround, "eastFt" | "northFt" | "elevFt"> {
    const join = (shots: Float64Array, axis: 0 | 1 | 2) => {
      const column = new Float64Array(this.count);
      column.set(shots.subarray(0, this.#ground.count));
      this.#added.forEach((point, i) => {
        column[this.#ground.count + i] = point[axis];
      });
      return column;
    };
    const { eastFt, northFt, elevFt } = this.#ground;
    return { eastFt: join(eastFt, 0), northFt: join(northFt, 1), elevFt: join(elevFt, 2) };
  }

  warnings(): SurveyWarning[] {
    const warnings: SurveyWarning[] = [];
    if (this.#largestDifferenceFt > HEIGHTS_DIFFER_FT)
      warnings.push({
        code: "breakline-height-differs",
        message: `Break lines and shots (or other break lines) at the same place differ in height by up to ${this.#largestDifferenceFt.toFixed(2)} ft; the first height was kept.`,
        remedy: "Ask the surveyor which height is right.",
      });
    if (this.bent > 0)
      warnings.push({
        code: "breakline-bent",
        message: `Break lines were led through ${this.bent} points that lie on them, at those points' heights, which differ from the lines' by up to ${this.bentDifferenceFt.toFixed(2)} ft.`,
        remedy: "Where the difference matters, ask the surveyor which height is right.",
      });
    if (this.crossings > 0)
      warnings.push({
        code: "breakline-crossing",
        message: `Break lines cross at ${this.crossings} places, where their heights differ by up to ${this.crossingDifferenceFt.toFixed(2)} ft; the mean height was used.`,
        remedy: "A ridge and a swale cannot cross: ask the surveyor to check the lines.",
      });
    return warnings;
  }
}

function bendThroughPoints(points: PointStore, segments: readonly Segment[], boxes: Flatbush): void {
  for (let p = 0; p < points.count; p++) {
    const [x, y, z] = points.at(p);
    for (const s of boxes.search(
      x - COINCIDENT_FT,
      y - COINCIDENT_FT,
      x + COINCIDENT_FT,
      y + COINCIDENT_FT,
    )) {
      const { a, b, cuts } = segments[s]!;
      if (p === a || p === b) continue;
      const [ax, ay, az] = points.at(a);
      const [bx, by, bz] = points.at(b);
      const length2 = (bx - ax) ** 2 + (by - ay) ** 2;
      const t = ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / length2;
      const offFt = Math.abs((x - ax) * (by - ay) - (y - ay) * (bx - ax)) / Math.sqrt(length2);
      if (t <= 0 || t >= 1 || offFt > COINCIDENT_FT) continue;
      cuts.push({ t, point: p });
      points.bent++;
      points.bentDifferenceFt = Math.max(points.bentDifferenceFt, Math.abs(z - az - t * (bz - az)));
    }
  }
}

function cutCrossings(points: PointStore, segments: readonly Segment[], boxes: Flatbush): void {
  segments.forEach((one, i) => {
    const [ax, ay, az] = points.at(one.a);
    const [bx, by, bz] = points.at(one.b);
    for (const j of boxes.search(Math.min(ax, bx), Math.min(ay, by), Math.max(ax, bx), Math.max(ay, by))) {
      const other = segments[j]!;
      if (j <= i || meet(one, other)) continue;
      const [cx, cy, cz] = points.at(other.a);
      const [dx, dy, dz] = points.at(other.b);
      const turn = (bx - ax) * (dy - cy) - (by - ay) * (dx - cx);
      if (turn === 0) continue;
      const t = ((cx - ax) * (dy - cy) - (cy - ay) * (dx - cx)) / turn;
      const u = ((cx - ax) * (by - ay) - (cy - ay) * (bx - ax)) / turn;
      if (!(t > 0 && t < 1 && u > 0 && u < 1)) continue;
      const z = az + t * (bz - az);
      const otherZ = cz + u * (dz - cz);
      const point = points.add([ax + t * (bx - ax), ay + t * (by - ay), (z + otherZ) / 2]);
      one.cuts.push({ t, point });
      other.cuts.push({ t: u, point });
      points.crossings++;
      points.crossingDifferenceFt = Math.max(points.crossingDifferenceFt, Math.abs(z - otherZ));
    }
  });
}

/** Whether two segments already share a point: an end, or one they were both led through. */
function meet(one: Segment, other: Segment): boolean {
  const mine = new Set([one.a, one.b, ...one.cuts.map(({ point }) => point)]);
  return mine.has(other.a) || mine.has(other.b) || other.cuts.some(({ point }) => mine.has(point));
}
