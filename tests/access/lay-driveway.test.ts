import { assert, describe, test } from "vitest";
import {
  type DriveTarget,
  type Driveway,
  layDriveway,
  shortestRunFt,
  surveyReach,
} from "../../analysis/access/index.js";
import { distanceToRingFt, type Point, ringContains } from "../../analysis/geometry/plane.js";
import type { Site } from "../../analysis/lot/index.js";
import { planeSite } from "../support/sites.js";
import { houseAt } from "./targets.js";

const WITH_STREET = { access: { frontage: [0] } };

function drive(site: Site, target: DriveTarget): Driveway {
  const access = layDriveway(site, surveyReach(site), target);
  if (!access.reachable) assert.fail(access.because);
  return access.driveway;
}

/** Ground of `planeSite` at a distance north of the south line. */
function groundFt(gradePct: number, north: number, depthFt = 208.71): number {
  return 500 + (gradePct / 100) * (north - depthFt / 2);
}

/** Radius of the circle through three points. */
function circleFt([ax, ay]: Point, [bx, by]: Point, [cx, cy]: Point): number {
  const twice = Math.abs((bx - ax) * (cy - ay) - (by - ay) * (cx - ax));
  const sides = Math.hypot(bx - ax, by - ay) * Math.hypot(cx - bx, cy - by) * Math.hypot(ax - cx, ay - cy);
  return twice < 1e-9 ? Infinity : sides / (2 * twice);
}

const cases = [
  { what: "a mild plane, door to the street", gradePct: 5, faces: "south" as const },
  { what: "a 15 % plane, door to the street", gradePct: 15, faces: "south" as const },
  { what: "a 20 % plane, door to the side", gradePct: 20, faces: "east" as const },
  { what: "a 20 % plane, door to the street", gradePct: 20, faces: "south" as const },
  { what: "a 25 % plane, door to the side", gradePct: 25, faces: "west" as const },
];
for (const { what, gradePct, faces } of cases)
  describe(`a drive on ${what}`, () => {
    const site = planeSite({ gradePct, request: WITH_STREET });
    const target = houseAt({ at: [105, 120], floorFt: groundFt(gradePct, 120), faces });
    const found = drive(site, target);
    const { line } = found;

    test("runs from the street line to the garage door at its floor", () => {
      assert.closeTo(line[0]![1], 0, 1e-6);
      assert.closeTo(line[0]![2], groundFt(gradePct, 0), 0.05);
      assert.closeTo(Math.hypot(line.at(-1)![0] - 105, line.at(-1)![1] - 120), 0, 1e-6);
      assert.closeTo(line.at(-1)![2], target.garageFloorFt, 1e-9);
    });

    test("turns nowhere tighter than 20 ft at the inside edge of its 12 ft", () => {
      for (let i = 1; i + 1 < line.length; i++)
        assert.isAtLeast(
          circleFt(
            [line[i - 1]![0], line[i - 1]![1]],
            [line[i]![0], line[i]![1]],
            [line[i + 1]![0], line[i + 1]![1]],
          ),
          26 - 1e-6,
        );
    });

    test("climbs nowhere more than 15 %, at the inside edges of its curves too", () => {
      const at = (i: number): Point => [line[i]![0], line[i]![1]];
      for (let i = 0; i + 1 < line.length; i++) {
        const climb = Math.abs(line[i + 1]![2] - line[i]![2]);
        const run = found.lengthFt / (line.length - 1);
        assert.isAtMost(climb / run, 0.15 + 1e-9);
        if (i === 0 || i + 2 === line.length) continue;
        // inside one curve the circles through its stations are the curve's own; its inside edge is 6 ft shorter in radius
        const [one, next] = [circleFt(at(i - 1), at(i), at(i + 1)), circleFt(at(i), at(i + 1), at(i + 2))];
        if (one < 100 && Math.abs(one - next) < 1e-3)
          assert.isAtMost(climb / (run * (1 - 6 / one)), 0.15 + 1e-6);
      }
      assert.isAtMost(found.maxGradePct, 15 + 1e-9);
    });

    test("keeps to 8 % by the street and 5 % before the door, and bends no faster than 1 % a foot", () => {
      const grade = (i: number) =>
        (found.profile[i + 1]!.gradeFt - found.profile[i]!.gradeFt) /
        (found.profile[i + 1]!.stationFt - found.profile[i]!.stationFt);
      for (let i = 0; i + 1 < found.profile.length; i++) {
        const middle = (found.profile[i]!.stationFt + found.profile[i + 1]!.stationFt) / 2;
        if (middle < 20) assert.isAtMost(Math.abs(grade(i)), 0.08 + 1e-9);
        if (middle > found.lengthFt - 20) assert.isAtMost(Math.abs(grade(i)), 0.05 + 1e-9);
        if (i > 0)
          assert.isAtMost(
            Math.abs(grade(i) - grade(i - 1)),
            0.01 * (found.profile[1]!.stationFt - found.profile[0]!.stationFt) + 1e-9,
          );
      }
    });

    test("stays on the lot and out of the house", () => {
      for (const [x, y] of line.slice(2, -2)) {
        assert.isTrue(ringContains(site.survey.boundary, [x, y]));
        assert.isFalse(ringContains(target.footprint, [x, y]));
        assert.isAtLeast(Math.min(x, 208.71 - x, 208.71 - y), 6 - 1e-6);
      }
      for (const [x, y] of line.slice(2, -3)) assert.isAtLeast(distanceToRingFt(target.footprint, [x, y]), 4);
    });

    test("never crosses itself", () => {
      const stepFt = found.lengthFt / (line.length - 1);
      for (let i = 0; i < line.length; i++)
        for (let k = i + Math.ceil((Math.PI * 26) / stepFt); k < line.length; k++)
          assert.isAtLeast(Math.hypot(line[i]![0] - line[k]![0], line[i]![1] - line[k]![1]), 12);
    });

    test("is never shorter than its climb asks", () => {
      assert.isAtLeast(found.lengthFt, shortestRunFt(target.garageFloorFt - line[0]![2], 15) - 0.5);
    });
  });

test("on a wide inclined plane the drive is as long as rise ÷ limit, within 2 %, plus what throat and apron cost", () => {
  // 60 ft of rise at 15 % asks for 400 ft; the first 20 ft at 8 %, the last 20 ft at 5 % and the transitions add
  // (20·(15 − 8) + 20·(15 − 5)) ÷ 15 + (7²/2 + 10²/2) ÷ 15 ft, worked by hand: 22.67 + 4.97
  const site = planeSite({ gradePct: 17, widthFt: 500, depthFt: 500, request: WITH_STREET });
  const north = 60 / 0.17;
  const found = drive(site, houseAt({ at: [250, north], floorFt: groundFt(17, north, 500) }));
  const expected = 400 + 22.67 + 4.97;
  assert.closeTo(found.lengthFt, expected, 0.02 * expected);
});

test("where the lot is too shallow for a straight climb, the drive doubles back", () => {
  // 30 % ground, house 120 ft up: 36 ft of rise need over 240 ft of lane at 15 %, on a lot 209 ft wide
  const site = planeSite({ gradePct: 30, request: WITH_STREET });
  const found = drive(site, houseAt({ at: [105, 120], floorFt: groundFt(30, 120) }));
  assert.isAbove(found.lengthFt, 36 / 0.15);
  let east = 0;
  let west = 0;
  for (let i = 1; i < found.line.length; i++) {
    const dx = found.line[i]![0] - found.line[i - 1]![0];
    if (dx > 0) east += dx;
    else west -= dx;
  }
  assert.isAbove(east, 50);
  assert.isAbove(west, 50);
});

test("a drive on flat ground at floor level moves no earth and needs no walls", () => {
  const site = planeSite({ gradePct: 0, request: WITH_STREET });
  const found = drive(site, houseAt({ at: [105, 120], floorFt: 500 }));
  assert.closeTo(found.bankCutYd3, 0, 1e-6);
  assert.closeTo(found.compactedFillYd3, 0, 1e-6);
  assert.equal(found.wallFaceFt2, 0);
  assert.closeTo(found.lengthFt, 120, 0.5);
  assert.closeTo(found.pavedFt2, 12 * found.lengthFt, 1e-9);
  assert.isNull(found.insideRadiusFt);
});

test("a step of a few inches beside the drive is a curb, one of a foot a wall", () => {
  const withStreetAt = (streetElevationFt: number) =>
    drive(
      planeSite({ gradePct: 0, request: { access: { frontage: [0], streetElevationFt } } }),
      houseAt({ at: [105, 120], floorFt: 500 }),
    );
  // at the lot line the bank would run into the street, so the step is held there
  const low = withStreetAt(500.3);
  assert.deepEqual([low.wallFaceFt2, low.wallMaxFt], [0, 0]);
  assert.isAbove(withStreetAt(501).wallMaxFt, 0.5);
});

test("a raised drive over flat ground has the bank's volume, section by section", () => {
  // both ends 3 ft over the ground: the street's elevation and the floor are given; bank of 3 ft: 3·(14 + 2·3) ft² all along
  const site = planeSite({
    gradePct: 0,
    request: { access: { frontage: [0], streetElevationFt: 503 }, rules: { fillBatter: 2 } },
  });
  const found = drive(site, houseAt({ at: [105, 120], floorFt: 503 }));
  // the lane may dip toward the ground between its ends, so the full bank is the most
  assert.isAtMost(found.compactedFillYd3, (3 * 20 * 120) / 27);
  assert.isAbove(found.compactedFillYd3, 0);
  // integrated here from the profile itself: ∫ d(14 + 2d) ds with Simpson's rule between stations
  let ft3 = 0;
  for (let i = 1; i < found.profile.length; i++) {
    const a = found.profile[i - 1]!.gradeFt - 500;
    const b = found.profile[i]!.gradeFt - 500;
    const area = (d: number) => d * (14 + 2 * d);
    ft3 +=
      ((found.profile[i]!.stationFt - found.profile[i - 1]!.stationFt) *
        (area(a) + 4 * area((a + b) / 2) + area(b))) /
      6;
  }
  // the last stations lie against the house, which holds the bank there
  assert.closeTo(found.prismoidalFillYd3, ft3 / 27, 0.06 * (ft3 / 27));
});

test("a house far above a small steep lot's street has no drive: the gentlest grade, where it pinches and what helps", () => {
  const site = planeSite({ gradePct: 35, widthFt: 90, depthFt: 130, request: WITH_STREET });
  const floorFt = groundFt(35, 90, 130);
  const access = layDriveway(site, surveyReach(site), houseAt({ at: [45, 90], floorFt }));
  if (access.reachable) assert.fail("a lane of 15 % cannot climb 31 ft on a lot 90 ft wide");
  if (access.gentlestGradePct !== null) {
    assert.isAbove(access.gentlestGradePct, 15);
    assert.isTrue(
      ringContains(
        [
          [-10, -10],
          [100, -10],
          [100, 140],
          [-10, 140],
        ],
        access.pinchAt!,
      ),
    );
  }
  assert.isAtLeast(access.helps.length, 1);
  // steps of at most 7¾ in (IRC R311.7.5) for the climb from the middle of the street side
  assert.include(access.helps.join(" "), `${Math.ceil((0.35 * 90) / (7.75 / 12))} steps`);
});

test("where the lot is too narrow to turn, the same rules are tried over the ground the survey shows beside it", () => {
  // 22 % ground climbs 15.4 ft to the door: at least 103 ft of lane at 15 %, on a lot 80 ft wide whose turns take 52 ft each
  const request = { access: { frontage: [0] } };
  const narrow = { gradePct: 22, widthFt: 80, depthFt: 130, spacingFt: 10, request };
  const target = (site: Site) =>
    layDriveway(site, surveyReach(site), houseAt({ at: [40, 70], floorFt: groundFt(22, 70, 130) }));
  const shown = target(planeSite({ ...narrow, beyondFt: 150 }));
  if (shown.reachable) assert.fail("no lane at 15 % fits the lot");
  const easement = shown.tried.find(({ what }) => what === "easement")!;
  assert.isTrue(easement.works);
  assert.isAtLeast(easement.lengthFt!, 15.4 / 0.15);
  assert.isAbove(easement.offLotFt!, 0);
  assert.isBelow(easement.offLotFt!, easement.lengthFt!);
  const hidden = target(planeSite({ ...narrow, beyondFt: 0 }));
  if (hidden.reachable) assert.fail("no lane at 15 % fits the lot");
  assert.isUndefined(hidden.tried.find(({ what }) => what === "easement"));
  assert.include(hidden.helps.join(" "), "could not be tried");
});

test("nobody knows the street: the reason says so and what to send", () => {
  const site = planeSite({ gradePct: 10 });
  const access = layDriveway(site, surveyReach(site), houseAt({ at: [105, 120], floorFt: 500 }));
  if (access.reachable) assert.fail("there is no street");
  assert.include(access.because, "street");
  assert.include(access.helps[0]!, "access.frontage");
});

test("the street is known, but not how high it lies: the reason says so and what to send", () => {
  const site = planeSite({ gradePct: 10, beyondFt: -40, request: WITH_STREET });
  const access = layDriveway(site, surveyReach(site), houseAt({ at: [105, 120], floorFt: 500 }));
  if (access.reachable) assert.fail("there is no ground beside the street");
  assert.include(access.because, "how high the street lies");
  assert.include(access.helps[0]!, "access.streetElevationFt");
});

test("stairs to a floor 5 ft 2 in above the garage have eight risers of 7¾ in", () => {
  const site = planeSite({ gradePct: 5, request: WITH_STREET });
  const floorFt = groundFt(5, 120);
  const found = drive(site, houseAt({ at: [105, 120], floorFt, houseFloorFt: floorFt + 62 / 12 }));
  assert.closeTo(found.stairsRiseFt, 62 / 12, 1e-9);
  assert.equal(found.stairsCount, 8);
});

test("long drives are asked for a turnaround, which lies on the lot and off the house", () => {
  const site = planeSite({ gradePct: 5, widthFt: 300, depthFt: 300, request: WITH_STREET });
  const target = houseAt({ at: [150, 220], floorFt: groundFt(5, 220, 300) });
  const found = drive(site, target);
  assert.isAbove(found.lengthFt, 150);
  assert.isTrue(found.turnaroundRequired);
  assert.isTrue(found.turnaround);
  for (const corner of found.turnaroundRing!) {
    assert.isTrue(ringContains(site.survey.boundary, corner));
    assert.isFalse(ringContains(target.footprint, corner));
  }
});

test("a short drive needs no turnaround", () => {
  const site = planeSite({ gradePct: 2, request: WITH_STREET });
  const found = drive(site, houseAt({ at: [105, 28], floorFt: groundFt(2, 28) }));
  assert.isFalse(found.turnaroundRequired);
  assert.closeTo(found.lengthFt, 28, 0.5);
});

test("the same lot gives the same drive", () => {
  const site = planeSite({ gradePct: 20, request: WITH_STREET });
  const target = houseAt({ at: [105, 120], floorFt: groundFt(20, 120) });
  assert.deepEqual(drive(site, target), drive(site, target));
});
