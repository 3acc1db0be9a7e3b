/** Whether a footprint lies on the ground, against the area Clipper leaves of it outside (clipper2-ts, a general-purpose library). */
import fc from "fast-check";
import { assert, describe, test } from "vitest";
import { differenceOf, offsetOf, unionOf } from "../../analysis/geometry/clip.js";
import { flatten } from "../../analysis/geometry/convex-clip.js";
import { areaFt2, type MultiPolygon, type Point, type Ring } from "../../analysis/geometry/plane.js";
import { Ground } from "../../analysis/schemes/contained.js";

const rect = (x: number, y: number, width: number, depth: number, turnRad: number): Ring =>
  [
    [-1, -1],
    [1, -1],
    [1, 1],
    [-1, 1],
  ].map(([u, v]): Point => {
    const [a, b] = [(u! * width) / 2, (v! * depth) / 2];
    return [
      x + a * Math.cos(turnRad) - b * Math.sin(turnRad),
      y + a * Math.sin(turnRad) + b * Math.cos(turnRad),
    ];
  });

const place = { min: 0, max: 100, noNaN: true };
const rectArb = (least: number, most: number) =>
  fc
    .tuple(
      fc.double(place),
      fc.double(place),
      fc.double({ min: least, max: most, noNaN: true }),
      fc.double({ min: least, max: most, noNaN: true }),
      fc.double({ min: 0, max: 3, noNaN: true }),
    )
    .map((numbers) => rect(...numbers));

/** Rounded pieces with holes, like ground left to build on. */
const groundArb = fc
  .tuple(
    fc.array(rectArb(20, 90), { minLength: 1, maxLength: 4 }),
    fc.array(rectArb(3, 20), { maxLength: 4 }),
  )
  .map(([rings, holes]): MultiPolygon => offsetOf(differenceOf(unionOf(rings), unionOf(holes)), -1));

describe("a footprint on the ground", () => {
  test("is held where nothing of it lies outside, and only there", () => {
    let held = 0;
    let not = 0;
    fc.assert(
      fc.property(
        groundArb,
        fc.array(rectArb(2, 30), { minLength: 12, maxLength: 12 }),
        (polygons, prints) => {
          const ground = new Ground(polygons);
          for (const print of prints) {
            const outsideFt2 = areaFt2(differenceOf([[print]], polygons));
            // a touch is decided either way
            if (outsideFt2 > 0 && outsideFt2 < 0.01) continue;
            const holds = ground.holds(flatten(print));
            assert.equal(holds, outsideFt2 === 0, JSON.stringify({ print, outsideFt2 }));
            if (holds) held++;
            else not++;
          }
        },
      ),
      { numRuns: 150, seed: 7 },
    );
    assert.isAbove(held, 100);
    assert.isAbove(not, 100);
  });
  test("no ground holds nothing", () => {
    assert.isFalse(new Ground([]).holds(flatten(rect(0, 0, 2, 2, 0))));
  });
});
