/** What the numbers mean, and who must answer what they cannot say. */

export type Severity = "info" | "watch" | "concern" | "stop";

export interface Finding {
  readonly code: string;
  readonly severity: Severity;
  readonly title: string;
  readonly detail: string;
  readonly measured: number | string | null;
  readonly threshold: number | string | null;
  readonly unit: string;
  readonly basis: "survey" | "rule given" | "assumed";
  /** Scheme ids; empty when it concerns the lot. */
  readonly affects: readonly string[];
  readonly next: string;
  readonly who: string;
  readonly source: string;
}

export type VerdictCode = "good-fit" | "hard-dear" | "specialist-first" | "no-room" | "cannot-tell";

export interface Recommendation {
  readonly schemeId: string | null;
  readonly verdictCode: VerdictCode;
  readonly verdict: string;
  readonly reasons: readonly string[];
  readonly flipsIf: readonly string[];
}
