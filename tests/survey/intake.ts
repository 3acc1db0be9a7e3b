/** Intake as a test calls it: text or bytes in, a survey or problems out. */
import { readFileSync } from "node:fs";
import type { Problem } from "../../analysis/assumptions.js";
import { type RequestInput, requestSchema, understandRequest } from "../../analysis/request/index.js";
import { readSurvey, type Survey, type SurveyFile, type SurveyReading } from "../../analysis/survey/index.js";

export type Sent = string | Uint8Array;

export interface Case {
  readonly topo?: Sent;
  readonly boundary?: Sent;
  readonly constraints?: Sent;
  readonly breaklines?: Sent;
  readonly request?: RequestInput;
}

const asFile = (name: string, sent: Sent | undefined): SurveyFile | undefined =>
  sent === undefined
    ? undefined
    : { name, bytes: typeof sent === "string" ? new TextEncoder().encode(sent) : sent };

export async function intake({
  topo,
  boundary,
  constraints,
  breaklines,
  request = {},
}: Case): Promise<SurveyReading> {
  const input = requestSchema.parse(request);
  const files = Object.fromEntries(
    Object.entries({ topo, boundary, constraints, breaklines })
      .map(([name, sent]) => [name, asFile(`${name} of somebody.txt`, sent)] as const)
      .filter(([, file]) => file !== undefined),
  );
  return readSurvey({ input, request: understandRequest(input).request, files });
}

export async function surveyFrom(sent: Case): Promise<Survey> {
  const reading = await intake(sent);
  if (!reading.ok) throw new Error(`refused: ${JSON.stringify(reading.problems)}`);
  return reading.survey;
}

export async function problemsFrom(sent: Case): Promise<readonly Problem[]> {
  const reading = await intake(sent);
  if (reading.ok) throw new Error("was read, but should have been refused");
  return reading.problems;
}

export function reference(path: string): Uint8Array {
  return new Uint8Array(readFileSync(new URL(`../reference/${path}`, import.meta.url)));
}

export const codesOf = (survey: Survey): string[] => survey.summary.warnings.map(({ code }) => code);
