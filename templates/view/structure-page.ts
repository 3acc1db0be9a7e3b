/** Builder's page on what holds the house up and the hill back. */
import { type Source, table } from "./report-parts.js";
import { capital, FOUNDATION_WORDS, plural, sentences } from "./words.js";

export function structurePage({ format, chosen }: Source) {
  if (!chosen) return undefined;
  const f = chosen.foundation;
  const b = chosen.basement;
  const s = chosen.structure;
  const told = f.standing !== "cannot-tell";
  return {
    headline: !told
      ? "This survey cannot tell what foundation would be asked for."
      : f.standing === "specialist-first"
        ? `A soils engineer must speak first. ${capital(FOUNDATION_WORDS[f.kind])} may be asked for.`
        : `Likely to be asked for: ${FOUNDATION_WORDS[f.kind]}.`,
    reasons: f.reasons.map((reason) => sentences(format.say(reason))),
    runnerUp: told ? FOUNDATION_WORDS[f.runnerUp] : undefined,
    // Studies kept from before had no reasons for the second.
    runnerUpReasons: told ? (f.runnerUpReasons ?? []).map((reason) => sentences(format.say(reason))) : [],
    wouldChange: f.wouldChange.map((change) => sentences(format.say(change))),
    quantities: told
      ? table(
          "Orders of magnitude",
          ["", "Amount"],
          [
            f.piers > 0
              ? [
                  "Piers",
                  `${format.count(f.piers)}, ${format.inches(f.pierDiameterIn)} across, ${format.length(f.pierDepthFt[1], 1)} deep (${format.length(f.pierDepthFt[0], 1)} to ${format.length(f.pierDepthFt[2], 1)})`,
                ]
              : null,
            f.gradeBeamFt > 0 ? ["Grade beams", format.length(f.gradeBeamFt, 10)] : null,
            f.slabFt2 > 0 ? ["Slab", format.area(f.slabFt2)] : null,
            f.raisedFloorFt2 > 0 ? ["Raised floor", format.area(f.raisedFloorFt2)] : null,
            ...f.concreteByElement.map(
              (part) => [`Concrete, ${part.element}`, format.volume(part.yd3)] as const,
            ),
            [
              "Concrete in all",
              `${format.volume(f.concreteYd3)}, ${format.count(f.concreteTrucks)} ${plural(f.concreteTrucks, "truck")}${f.pump ? ", by pump" : ""}`,
            ],
          ],
        )
      : undefined,
    basement: b
      ? {
          facts: table(
            "Basement",
            ["", "Value"],
            [
              [
                "Wall in the ground and open",
                `${format.length(b.buriedWallFt, 1)} and ${format.length(b.daylightWallFt, 1)}`,
              ],
              ["Most earth held", format.length(b.maxRetainedFt, 0.5)],
              [
                "Wall face and waterproofing",
                `${format.area(b.wallFaceFt2)} and ${format.area(b.waterproofFt2)}`,
              ],
              b.shoringFt2 > 0 ? ["Braced side of the dig", format.area(b.shoringFt2)] : null,
              ["While the hole is open", format.say(b.protection)],
              [
                "Light wells",
                `${b.lightWells === 0 ? "None" : format.count(b.lightWells)}. ${format.say(b.ifBedroomMoves)}`,
              ],
              ["Bedrooms on an open wall", format.count(b.bedroomsOnOpenWall)],
            ],
          ),
          sides: table(
            "Basement walls, side by side",
            ["Side", "Length", "In the ground", "Deepest"],
            b.sides.map((side) => [
              capital(side.side),
              format.length(side.lengthFt, 1),
              format.length(side.buriedFt, 1),
              format.length(side.maxUnbalancedFt, 0.5),
            ]),
          ),
        }
      : undefined,
    setbacks: table(
      "Standing back from steep ground (IRC R403.1.7)",
      ["Slope", "Height", "Asked for", "There is", "Met"],
      s.slopeSetbacks.map((k) => [
        k.direction === "ascending" ? "Rising behind the house" : "Falling below the house",
        format.length(k.slopeHeightFt, 1),
        format.length(k.requiredFt, 0.5),
        format.length(k.availableFt, 0.5),
        k.met ? "yes" : "no",
      ]),
    ),
    limits: table(
      "House against the rules",
      ["", "Value"],
      [
        [
          "Height above natural ground",
          `${format.length(s.heightAboveGroundFt, 0.5)} of ${format.length(s.heightLimitFt, 0.5)} allowed${s.heightOk ? "" : ": over"}`,
        ],
        s.allowedFloorAreaFt2 === null
          ? null
          : [
              "Floor area",
              `${format.area(chosen.floorAreaFt2)} of ${format.area(s.allowedFloorAreaFt2)} allowed`,
            ],
        ["Lot covered by house", format.percent(s.coveragePct)],
        s.railingFt > 0 ? ["Railing where people can fall", format.length(s.railingFt, 5)] : null,
        s.septic
          ? ["Septic field", `${format.area(s.septic.areaFt2)}: ${format.say(s.septic.because)}`]
          : null,
      ],
    ),
  };
}
