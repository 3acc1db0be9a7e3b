/** Earth and walls along a lane, against the ground as the scheme leaves it. Method: docs/methods/access.md */
import { prismoidalFt3, sumStationsFt3 } from "../earthwork/index.js";
import type { Site } from "../lot/site.js";
import type { DriveRules } from "./drive-rules.js";
import { type DriveTarget, FinishedGround } from "./drive-target.js";
import { type Station, stationsOf } from "./lane-path.js";
import { type Section, type SectionGround, sectionAt } from "./lane-sections.js";
import type { LaidLane } from "./lay-lane.js";

/** Of a whole lane: volumes by average end area and by the prismoidal formula, and its walls. */
export interface EarthMoved {
  readonly endAreaCutFt3: number;
  readonly endAreaFillFt3: number;
  readonly prismoidalCutFt3: number;
  readonly prismoidalFillFt3: number;
  readonly wallFaceFt2: number;
  readonly wallMaxFt: number;
}

/** Cross-sections at every station and half-way between, cut when they are first asked for. */
export class LaneEarth {
  readonly #laid: LaidLane;
  readonly #rules: DriveRules;
  readonly #ground: SectionGround;
  /** At every station and half-way between. */
  readonly #places: readonly Station[];
  readonly #sections: Section[] = [];

  constructor(site: Site, target: DriveTarget, laid: LaidLane, rules: DriveRules) {
    this.#laid = laid;
    this.#rules = rules;
    this.#ground = new FinishedGround(site, target);
    this.#places = beforeDoor(stationsOf(laid.path, 2 * (laid.gradeFt.length - 1)));
  }

  /** Whether a wall beside the lane is taller than that; no more sections are cut once one is. */
  hasWallOver(heightFt: number): boolean {
    for (let k = 0; k < this.#places.length; k += 2)
      if (Math.max(...this.#section(k).wallsFt) > heightFt) return true;
    return false;
  }

  moved(): EarthMoved {
    const { stepFt } = this.#laid.profileRules;
    const halves = this.#places.map((_, k) => this.#section(k));
    const whole = halves.filter((_, k) => k % 2 === 0);
    const endArea = (of: "cutFt2" | "fillFt2") =>
      sumStationsFt3(
        whole.map((section, i) => ({ stationFt: this.#places[2 * i]!.stationFt, areaFt2: section[of] })),
      );
    const prismoidal = (of: "cutFt2" | "fillFt2") =>
      whole
        .slice(1)
        .reduce(
          (sum, section, i) =>
            sum + prismoidalFt3(whole[i]![of], halves[2 * i + 1]![of], section[of], stepFt),
          0,
        );
    const walls = whole.map(({ wallsFt: [left, right] }) => left + right);
    return {
      endAreaCutFt3: endArea("cutFt2"),
      endAreaFillFt3: endArea("fillFt2"),
      prismoidalCutFt3: prismoidal("cutFt2"),
      prismoidalFillFt3: prismoidal("fillFt2"),
      wallFaceFt2: walls.slice(1).reduce((sum, wall, i) => sum + (stepFt * (walls[i]! + wall)) / 2, 0),
      wallMaxFt: Math.max(...whole.flatMap(({ wallsFt }) => wallsFt)),
    };
  }

  #section(k: number): Section {
    const { gradeFt } = this.#laid;
    const bedFt = (gradeFt[Math.floor(k / 2)]! + gradeFt[Math.ceil(k / 2)]!) / 2;
    this.#sections[k] ??= sectionAt(this.#places[k]!, bedFt, this.#ground, this.#rules);
    return this.#sections[k];
  }
}

/** The last station a hair out of the wall the door is in, where there is ground to be read. */
function beforeDoor(stations: readonly Station[]): Station[] {
  const last = stations.at(-1)!;
  const { at, heading } = last;
  return [
    ...stations.slice(0, -1),
    { ...last, at: [at[0] - OUT_OF_WALL_FT * Math.cos(heading), at[1] - OUT_OF_WALL_FT * Math.sin(heading)] },
  ];
}

const OUT_OF_WALL_FT = 0.01;
