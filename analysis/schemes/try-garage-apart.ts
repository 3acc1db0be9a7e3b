/** A scheme with its garage taken off the house and put on a pad of its own. */
import type { Reach } from "../access/access.js";
import { offsetOf, unionOf } from "../geometry/clip.js";
import { areaFt2, type MultiPolygon, type Point, type Ring } from "../geometry/plane.js";
import type { Site } from "../lot/site.js";
import { curvesOf } from "./curves.js";
import { drawDesign } from "./design.js";
import { coreOf, type DesignCore, rotationDeg } from "./design-core.js";
import { curveRules, type DesignWords, type Draft } from "./draft.js";
import { DriveCost } from "./drive-cost.js";
import { exactProblems } from "./exact-problems.js";
import { computeExactly, type ExactTrial } from "./exact-trial.js";
import { cornersOf } from "./footprint-outline.js";
import { type FootprintShape, rectArea, rectangleWords } from "./footprints.js";
import { garageApart } from "./garage-apart.js";
import { judgeFor } from "./judge.js";
import { KINDS } from "./kinds.js";
import type { Breach } from "./limits.js";
import { CLOSE, type Judge, type Model } from "./model.js";
import { onLot, type Place } from "./place.js";
import { placeGarage } from "./place-garage.js";
import { searchAxisRad } from "./placings.js";
import { breachWords, terraceWords } from "./problem-words.js";
import type { Level, SchemeDesign, SchemeProblem } from "./scheme.js";
import type { Prices } from "./site-cost.js";

/** Ground kept free between the earthwork of the house and the strip around a garage apart. Common practice, no source. */
const BETWEEN_FT = 4;
const OVERLAP_FT2 = 0.5;

/** Everything the tries on one lot share, made when first needed. */
export class GaragesApart {
  readonly judge: Judge;
  readonly #site: Site;
  readonly #houseSite: Site;
  readonly #houseJudge: Judge;
  readonly #reach: Reach;
  readonly #axisRad: number;

  constructor(site: Site, reach: Reach, prices: Prices) {
    const { request } = site;
    this.#site = site;
    this.#reach = reach;
    this.judge = judgeFor(site, reach, prices);
    // the house alone: no car comes to it
    this.#houseSite = { ...site, request: { ...request, brief: { ...request.brief, garageCars: 0 } } };
    const { ground, prices: made } = this.judge;
    this.#houseJudge = {
      ...this.judge,
      request: this.#houseSite.request,
      drive: new DriveCost({ ...reach, entry: null }, ground, made, this.#houseSite.request),
    };
    this.#axisRad = searchAxisRad(site);
  }

  /**
   * The house stays where it is; its level is sought again without the garage. Where no car reaches the garage at the
   * house, a door that looks at the street is sought first. Given up where the ground work with a guessed drive does not
   * come below a limit; a string says why there is none.
   */
  candidate(attached: Draft, isOutOfReach: boolean, belowUsd: number): Draft | string {
    const house = houseAlone(attached.core, this.#houseJudge);
    const trial = house?.model.tryAt(house.place, house.shape, CLOSE, { how: "search" });
    if (!trial) return "The house does not stand there without its garage.";
    const { model } = house!;
    const exact = computeExactly(trial, model, this.#houseSite, this.#houseJudge);
    const drawn = drawDesign(exact, this.#houseSite, coreOf(exact, this.#houseSite, this.#houseJudge));
    const known = new Set(attached.words().problems.map(({ code }) => code));
    const alone = [...sought(exact), ...exactProblems(exact, drawn.walls, this.#houseSite)];
    if (alone.some(({ code }) => !known.has(code)))
      return "The house alone would break a rule that it keeps with its garage.";

    const entrances = drawn.levels;
    const free = keptFree(drawn, this.#site);
    let because = "No pad for it fits the buildable ground outside the house.";
    for (const atStreet of isOutOfReach ? [true, false] : [false]) {
      const apart = garageApart(this.judge, entrances, free, atStreet ? this.#reach.entries : null);
      const garage = placeGarage(
        apart,
        {
          buildable: this.#site.lot.buildablePolygons,
          entries: this.#reach.entries,
          axisRad: this.#axisRad,
          entrances,
        },
        this.judge,
      );
      if (!garage || garage.breaches.some(({ code }) => code !== "site-wall")) continue;
      const together = computeExactly(trial, model, this.#houseSite, this.judge, garage);
      if (together.costUsd >= belowUsd) {
        because = "With its walk and its own pad it would cost no less.";
        continue;
      }
      const whole = this.#drawn(attached, together, apart.levels(garage)[0]!, alone);
      if (whole?.breaches.every(({ code }) => known.has(code))) return whole.draft;
    }
    return because;
  }

  /** House and garage drawn as one scheme; null where their pads would overlap. */
  #drawn(
    attached: Draft,
    exact: ExactTrial,
    part: ReturnType<Model["levels"]>[number],
    alone: ReturnType<typeof exactProblems>,
  ): { readonly draft: Draft; readonly breaches: readonly Breach[] } | null {
    const garage = exact.apart!;
    const onPlace = (corners: readonly Point[]): Ring => corners.map((p) => onLot(garage.place, p));
    const own = garage.layout.tiles.map(({ rect }) => onPlace(cornersOf(rect)));
    const pads = exact.surface?.pads.map(({ ring }) => ring) ?? [];
    const padFt2 = areaFt2(unionOf(pads));
    if (pads.reduce((sum, ring) => sum + areaFt2([[ring]]), 0) - padFt2 > OVERLAP_FT2 || own.length === 0)
      return null;
    const house = coreOf(exact, this.#houseSite, this.judge);
    const level: Level = {
      name: part.name,
      role: part.role,
      ring: onPlace(cornersOf(part.rect)),
      elevationFt: part.elevationFt,
      floorElevationFt: part.floorElevationFt,
      rotationDeg: rotationDeg(garage.place.turnRad),
    };
    const core: DesignCore = {
      ...house,
      levels: [...house.levels, level],
      garage: "detached",
      garageAt: onLot(garage.place, garage.shape.doors[garage.doorIndex]!.at),
      garageFloorFt: part.floorElevationFt,
    };
    const broken = new Map(
      [...alone, ...sought(exact), ...exactProblems(exact, house.walls, this.#site)].map((b) => [b.code, b]),
    );
    const breaches = [...broken.values()];
    const feasible = breaches.length === 0;
    const { request } = this.#site;
    const words = (): DesignWords => ({
      ...attached.words(),
      problems: breaches.map(
        (breach): SchemeProblem => ({
          ...attached.words().problems.find(({ code }) => code === breach.code),
          code: breach.code,
          message: [breachWords(breach, request), terraceWords(breach, exact)].filter(Boolean).join(" "),
        }),
      ),
      feasible,
    });
    const finished = () => ({
      ...words(),
      ...drawDesign(exact, this.#houseSite, core),
      curves: curvesOf(
        exact.trial,
        exact.model,
        request.brief.floorAreaFt2,
        curveRules(exact, breaches, this.#site),
      ),
    });
    return { draft: { feasible, core, words, finished }, breaches };
  }
}

/** Limits the search saw broken, less a tall wall that tiers took the place of. */
function sought({ trial, apart, terraces }: ExactTrial) {
  return [...trial.breaches, ...(apart?.breaches ?? [])].filter(
    ({ code }) => !(terraces === "stand" && code === "site-wall"),
  );
}

/** The house of a design as a model without a garage, at the same place; null for kinds that are not searched. */
function houseAlone(
  design: DesignCore,
  judge: Judge,
): { model: Model; place: Place; shape: FootprintShape } | null {
  const decks = design.levels.filter(({ role }) => role === "house");
  const models = KINDS.find(({ kind }) => kind === design.kind)?.models(judge, 1);
  const model = models && (models.length > 1 ? models[decks.length - 2] : models[0]);
  if (!model || decks.length === 0) return null;
  // corners of a level: (u0, v0), (u1, v0), (u1, v1), (u0, v1), the deck with the least v first
  const [p, q] = [decks[0]!.ring[0]!, decks[0]!.ring[1]!];
  const r = decks.at(-1)!.ring[2]!;
  const halfV = Math.hypot(r[0] - q[0], r[1] - q[1]) / 2;
  const lengthFt = Math.hypot(q[0] - p[0], q[1] - p[1]);
  const along: Point = [(q[0] - p[0]) / lengthFt, (q[1] - p[1]) / lengthFt];
  // a bay deeper than a garage held floor of the house behind the cars: the house takes that much of it
  const halfU = Math.max(lengthFt / 2, rectArea(model.shapes[0]!.house) / (4 * halfV));
  const moreFt = halfU - lengthFt / 2;
  const [gx, gy] = design.levels.find(({ role }) => role === "garage")?.ring[0] ?? p;
  const side = (gx - p[0]) * along[0] + (gy - p[1]) * along[1] > lengthFt / 2 ? 1 : -1;
  const rect = { u0: -halfU, u1: halfU, v0: -halfV, v1: halfV };
  const name = `${rectangleWords(2 * halfU, 2 * halfV)}, the garage on its own`;
  return {
    model,
    place: {
      eastFt: (p[0] + r[0]) / 2 + side * moreFt * along[0],
      northFt: (p[1] + r[1]) / 2 + side * moreFt * along[1],
      turnRad: Math.atan2(along[1], along[0]),
    },
    shape: {
      name,
      family: name,
      house: rect,
      garage: null,
      doors: [{ at: [0, halfV], outward: [0, 1], part: "house" }],
    },
  };
}

/** Ground the house takes with its slopes and its dig, and room for the strip around the garage. */
function keptFree(
  { outline, graded, temporary }: Pick<SchemeDesign, "outline" | "graded" | "temporary">,
  { request }: Site,
): MultiPolygon {
  const { uphill, side, downhill } = request.rules.apronFt;
  const rings = [
    outline,
    ...[...graded.cut, ...graded.fill, ...(temporary ? [temporary.outline] : [])].map(([outer]) => outer!),
  ];
  return offsetOf(unionOf(rings), BETWEEN_FT + Math.max(uphill, side, downhill));
}
