/**
 * Do topo and boundary lie on each other, and under which reading? A survey whose northing and easting are exchanged,
 * or whose two files are in different units, usually does not meet itself: the reading that makes them meet is evidence.
 */
import { METRES_PER_FOOT } from "../units.js";
import type { PointTable } from "./point-table.js";
import type { AxisSaying } from "./sources.js";

export interface MeetingInput {
  readonly topo: PointTable;
  readonly ring: readonly (readonly [number, number])[];
  readonly topoAxes: AxisSaying;
  readonly boundaryAxes: AxisSaying;
  /** False when both units are known. */
  readonly unitsOpen: boolean;
  /** Topo coordinates times this are in the boundary's unit, as far as the units are stated. */
  readonly topoScale: number;
}

export interface Reading {
  readonly swapTopo: boolean;
  readonly swapBoundary: boolean;
  /** Topo coordinates are multiplied by this to be in the boundary's unit. */
  readonly topoScale: number;
  /** Share of the lot's box that the topo's box covers, 0 to 1. */
  readonly covered: number;
}

export interface Meeting {
  /** As labelled, or in the trade's order where nothing is labelled. */
  readonly plain: Reading;
  /** The reading with most cover among those the labels allow; `plain` unless another is clearly better. */
  readonly allowed: Reading;
  /** The reading with most cover among all. */
  readonly best: Reading;
  readonly unitsOpen: boolean;
  /** Cover of the best other reading of the files whose axis order nobody states; 0 where both state it. */
  readonly rivalCovered: number;
}

const SAMPLE = 4_000;
/** Readings whose cover differs by less are not told apart. */
export const CLEARLY_BETTER = 0.3;
/** Metres taken for feet, or the reverse. */
export const FEET_PER_METRE = 1 / METRES_PER_FOOT;

export function compareReadings({
  topo,
  ring,
  topoAxes,
  boundaryAxes,
  unitsOpen,
  topoScale: stated,
}: MeetingInput): Meeting {
  const topoBox = boxOfShots(topo);
  const lotBox = boxOfRing(ring);
  const readings: Reading[] = [];
  for (const swapTopo of [false, true])
    for (const swapBoundary of [false, true])
      for (const topoScale of [stated, stated * FEET_PER_METRE, stated / FEET_PER_METRE]) {
        const covered = shareCovered(turned(lotBox, swapBoundary, 1), turned(topoBox, swapTopo, topoScale));
        readings.push({ swapTopo, swapBoundary, topoScale, covered });
      }
  const plain = readings[0]!;
  const isAllowed = (r: Reading) =>
    r.topoScale === plain.topoScale &&
    (!r.swapTopo || topoAxes !== "named") &&
    (!r.swapBoundary || boundaryAxes !== "named");
  const clearlyBest = (among: readonly Reading[]) =>
    among.reduce(
      (best, r) => (r.covered > best.covered + (best === plain ? CLEARLY_BETTER : 1e-9) ? r : best),
      plain,
    );
  const allowed = clearlyBest(readings.filter(isAllowed));
  const isRival = (r: Reading) =>
    r.topoScale === allowed.topoScale &&
    (topoAxes === "guessed" || r.swapTopo === allowed.swapTopo) &&
    (boundaryAxes === "guessed" || r.swapBoundary === allowed.swapBoundary) &&
    (r.swapTopo !== allowed.swapTopo || r.swapBoundary !== allowed.swapBoundary);
  return {
    plain,
    allowed,
    best: clearlyBest(readings),
    unitsOpen,
    rivalCovered: Math.max(0, ...readings.filter(isRival).map((r) => r.covered)),
  };
}

interface SpanBox {
  readonly minX: number;
  readonly maxX: number;
  readonly minY: number;
  readonly maxY: number;
}

function turned({ minX, maxX, minY, maxY }: SpanBox, swap: boolean, scale: number): SpanBox {
  return swap
    ? { minX: minY * scale, maxX: maxY * scale, minY: minX * scale, maxY: maxX * scale }
    : { minX: minX * scale, maxX: maxX * scale, minY: minY * scale, maxY: maxY * scale };
}

function shareCovered(lot: SpanBox, shots: SpanBox): number {
  const lotArea = (lot.maxX - lot.minX) * (lot.maxY - lot.minY);
  if (!(lotArea > 0)) return 1; // no lot: refused elsewhere, and not for missing the topo
  const width = Math.min(lot.maxX, shots.maxX) - Math.max(lot.minX, shots.minX);
  const height = Math.min(lot.maxY, shots.maxY) - Math.max(lot.minY, shots.minY);
  if (width <= 0 || height <= 0) return 0;
  return (width * height) / lotArea;
}

/** Box of the middle nine tenths of the shots, widened to what the whole would be if they lay evenly: one wild shot changes nothing. */
function boxOfShots({ count, easting, northing }: PointTable): SpanBox {
  const step = Math.max(1, Math.ceil(count / SAMPLE));
  const span = (values: Float64Array): [number, number] => {
    const taken = new Set<number>(); // many shots at one place count once
    for (let i = 0; i < count; i += step) taken.add(values[i]!);
    const sample = Float64Array.from(taken).sort();
    const low = sample[Math.floor(0.05 * (sample.length - 1))]!;
    const high = sample[Math.ceil(0.95 * (sample.length - 1))]!;
    const margin = (high - low) * 0.06;
    return [Math.max(sample[0]!, low - margin), Math.min(sample.at(-1)!, high + margin)];
  };
  const [minX, maxX] = span(easting);
  const [minY, maxY] = span(northing);
  return { minX, maxX, minY, maxY };
}

function boxOfRing(ring: readonly (readonly [number, number])[]): SpanBox {
  const xs = ring.map(([x]) => x);
  const ys = ring.map(([, y]) => y);
  return { minX: Math.min(...xs), maxX: Math.max(...xs), minY: Math.min(...ys), maxY: Math.max(...ys) };
}
