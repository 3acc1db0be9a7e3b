/** Why a hill costs money, as things one can point at: the largest first. */
import { measure } from "../measure.js";
import { driveOf, type SchemeFacts, tallestSiteWallFt } from "./facts.js";

/** Smaller things than these are not worth a sentence; common practice, no source. */
const WORTH_SAYING = { wallFt: 3, heldFt: 4, piers: 6, drivePct: 10, loads: 20 } as const;

export function hillFacts(best: SchemeFacts): string[] {
  const { structure, drainage, cost } = best;
  const { piers } = structure.foundation;
  const heldFt = structure.basement?.maxRetainedFt ?? 0;
  const wallFt = tallestSiteWallFt(best);
  const drivePct = driveOf(best)?.maxGradePct ?? 0;
  const loads = Math.round(cost.hauledLoads.p50);
  const facts: [said: boolean, sentence: string][] = [
    [
      heldFt >= WORTH_SAYING.heldFt,
      `The lower floor holds back up to ${measure(heldFt, "feet", 1)} of the hill.`,
    ],
    [wallFt >= WORTH_SAYING.wallFt, `A wall outside the house is up to ${measure(wallFt, "feet", 1)} tall.`],
    [piers >= WORTH_SAYING.piers, `About ${piers} deep concrete posts carry the house.`],
    [drainage.swale !== null, "Rain from the hill above must be led around the house."],
    [
      drivePct >= WORTH_SAYING.drivePct,
      `The driveway slopes ${measure(drivePct, "feet in a ratio", 1)} in 100 at its steepest.`,
    ],
    [loads >= WORTH_SAYING.loads, `About ${loads} truckloads of dirt must move.`],
  ];
  return facts.filter(([said]) => said).map(([, sentence]) => sentence);
}
