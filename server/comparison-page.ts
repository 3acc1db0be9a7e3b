/** The page of a comparison. */

import { makeFormat } from "../templates/view/format.js";
import { comparisonStatus, countsOf } from "./comparison-answer.js";
import type { Deps } from "./deps.js";
import { renderPage } from "./pages.js";
import { defaultKey, type RankingKey, rank } from "./ranking.js";
import { unpacked } from "./send-document.js";
import { type ComparedLot, sideBySide, verdictWords } from "./side-by-side.js";
import type { ComparisonRow, ParcelRow } from "./store/comparisons.js";
import type { StudyRow } from "./store/studies.js";

/** More columns than this cannot be read side by side; the rest stands in the list below. */
const SIDE_BY_SIDE = 6;
const PLAN_PX = 150;
const format = makeFormat("us");

export async function comparisonPage(
  { store }: Pick<Deps, "store">,
  comparison: ComparisonRow,
  parcels: readonly ParcelRow[],
  {
    key = defaultKey(parcels),
    builder = false,
  }: { readonly key?: RankingKey | undefined; readonly builder?: boolean } = {},
): Promise<string> {
  const counts = countsOf(parcels);
  const status = comparisonStatus(comparison, counts);
  const ranking = rank(parcels, key);
  const byRef = new Map(parcels.map((parcel) => [parcel.ref, parcel]));
  const ordered = ranking.order.map((ref) => byRef.get(ref)!);
  const lots = await comparedLots(store, ordered.slice(0, SIDE_BY_SIDE));
  return renderPage(
    "comparison",
    {
      title: comparison.name,
      wide: true,
      scripts: status === "running" || status === "accepted" ? ["comparison.js"] : [],
    },
    {
      name: comparison.name,
      id: comparison.id,
      mayDelete: builder && comparison.id !== "",
      status,
      counts,
      waiting: status === "running" || status === "accepted",
      side: lots.length > 0 ? sideBySide(lots, key) : null,
      more: ordered.length > SIDE_BY_SIDE,
      ranked: ordered.map(({ name, summary, studyId }, i) => ({
        place: i + 1,
        name,
        report: `/v1/studies/${studyId}/report`,
        verdict: verdictWords(summary!.verdictCode),
        premium: summary!.premiumUsd ? format.money(summary!.premiumUsd.p50) : "",
        allIn: summary!.allInUsd ? format.money(summary!.allInUsd.p50) : "",
        buildable: format.area(summary!.buildableFt2),
        slope: summary!.slopeUnderPadPct === null ? "" : format.percent(summary!.slopeUnderPadPct),
        truckloads: summary!.truckloads,
      })),
      unrankable: ranking.unrankable.map(({ ref, reason }) => {
        const { name, problem, studyId } = byRef.get(ref)!;
        return { name, reason, problem, report: studyId ? `/v1/studies/${studyId}/report` : null };
      }),
    },
  );
}

/** Studies picked from the builder's list, in the order they were picked. */
export async function pickedPage(
  { store }: Pick<Deps, "store">,
  studies: readonly StudyRow[],
): Promise<string> {
  const parcels = studies.map(
    (study, position): ParcelRow => ({
      position,
      ref: study.id,
      name: study.name,
      request: study.request,
      surveyId: study.surveyId,
      status: "successful",
      studyId: study.id,
      problem: null,
      summary: study.summary,
    }),
  );
  const picked: ComparisonRow = {
    id: "",
    token: "",
    createdAt: "",
    finishedAt: "",
    name: "Lots side by side",
    defaults: {},
    webhook: null,
    dismissed: false,
  };
  return comparisonPage({ store }, picked, parcels);
}

async function comparedLots(store: Deps["store"], parcels: readonly ParcelRow[]): Promise<ComparedLot[]> {
  const ids = parcels.flatMap(({ studyId }) => (studyId ? [studyId] : []));
  const packed = await store.studies.documentsOf(ids, "thumbnail");
  const plans = new Map(
    await Promise.all([...packed].map(async ([id, gzip]) => [id, await unpacked(gzip)] as const)),
  );
  const scaled = atOneScale(plans);
  return parcels.map(({ ref, name, summary, studyId }) => ({
    ref,
    name,
    summary: summary!,
    plan: scaled.get(studyId ?? "") ?? null,
    report: `/v1/studies/${studyId}/report`,
  }));
}

/** Gives each plan a size in proportion to its ground. */
function atOneScale(plans: ReadonlyMap<string, string>): Map<string, string> {
  const sizes = new Map(
    [...plans].map(([id, svg]) => [id, { widthFt: sizeIn(svg, "width"), heightFt: sizeIn(svg, "height") }]),
  );
  const largest = Math.max(1, ...[...sizes.values()].flatMap(({ widthFt, heightFt }) => [widthFt, heightFt]));
  return new Map(
    [...plans].map(([id, svg]) => {
      const { widthFt, heightFt } = sizes.get(id)!;
      const px = (ft: number) => ((ft / largest) * PLAN_PX).toFixed(0);
      return [id, svg.replace("<svg ", `<svg width="${px(widthFt)}" height="${px(heightFt)}" `)];
    }),
  );
}

function sizeIn(svg: string, side: "width" | "height"): number {
  return Number(new RegExp(`data-${side}-ft="([\\d.]+)"`).exec(svg)?.[1] ?? 0);
}
