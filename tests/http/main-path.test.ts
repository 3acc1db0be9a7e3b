/** The main path over a real socket, with the real analysis in real threads: two surveys in, study and report out. */
import { readFileSync } from "node:fs";
import request from "supertest";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { problemSchema } from "../../server/schemas/answers.js";
import { studySchema } from "../../server/schemas/study.js";
import type { StudyDocument } from "../../server/study-document.js";
import { openService, type TestService, withKey } from "./service.js";

const root = new URL("../..", import.meta.url).pathname;
const SLOW = 120_000;
let service: TestService;
let server: TestService["app"]["server"];
beforeAll(async () => {
  service = await openService();
  await service.app.listen({ host: "127.0.0.1", port: 0 });
  server = service.app.server;
});
afterAll(() => service.close());

const upload = (lot: string) =>
  request(server)
    .post("/v1/studies")
    .attach("topo", `${root}demo-data/${lot}/topo.csv`)
    .attach("boundary", `${root}demo-data/${lot}/boundary.csv`)
    .field("request", readFileSync(`${root}demo-data/${lot}/request.json`, "utf8"));
const read = (url: string) => request(server).get(url);

/** Everything but what names this one study. */
function numbersOf({ id: _i, token: _t, createdAt: _c, links: _l, ...rest }: StudyDocument) {
  return JSON.stringify(rest);
}

describe("two surveys in, a report out", () => {
  test.each(["quillback-lane", "saddlers-bowl", "wren-spur"])("%s", { timeout: SLOW }, async (lot) => {
    const { body, status, headers } = await upload(lot);
    expect(status).toBe(201);
    const study = studySchema.parse(body) as unknown as StudyDocument;
    expect(headers.location).toBe(study.links.self);
    expect(study.schemes.length).toBeGreaterThanOrEqual(5);
    // The waterfall adds up to the lot.
    const { steps } = study.buildable;
    const removed = steps.reduce((sum, step) => sum + step.removedFt2, 0);
    expect(removed + steps.at(-1)!.remainingFt2).toBeCloseTo(study.lot.areaFt2, -1);
    for (const { cost } of study.schemes) {
      expect(cost.p10Usd).toBeLessThanOrEqual(cost.p50Usd);
      expect(cost.p50Usd).toBeLessThanOrEqual(cost.p90Usd);
    }
    const report = await read(study.links.report)
      .expect(200)
      .expect("content-type", /text\/html/);
    expect(report.text).toContain(study.name.replaceAll("'", "&#x27;"));
    expect(report.text).not.toMatch(/undefined|NaN/);
    for (const url of Object.values(study.links.layers)) {
      const layer = await service.app.inject(url);
      expect(layer.statusCode).toBe(200);
      expect(layer.body).not.toContain("null,null");
    }
    const stakes = await read(`${study.links.stakes}?scheme=level-pad`).set(withKey);
    if (stakes.status === 200)
      for (const line of stakes.text.trimEnd().split("\r\n").slice(2))
        expect(line).toContain("PRELIM-NOT FOR CONSTRUCTION");
    else expect(stakes.status).toBe(409);
    const raised = await read(`${study.links.stakes}?scheme=daylight-basement`).set(withKey);
    if (raised.status === 200) {
      const corners = raised.text.split("\r\n").filter((line) => / (main|basement) \d/.test(line));
      expect(corners.some((line) => line.includes("basement"))).toBe(true);
      // Nobody fills up to a floor that stands over a lower level.
      for (const line of corners)
        expect(line.split(",")[5], line).toMatch(line.includes("basement") ? /^([CF] )?\d+\.\d$/ : /^$/);
    }
  });

  test("the same request gives the same study, byte for byte", { timeout: SLOW }, async () => {
    const [first, again] = [await upload("wren-spur"), await upload("wren-spur")];
    expect(numbersOf(again.body)).toBe(numbersOf(first.body));
    expect(again.body.id).not.toBe(first.body.id);
  });

  test("JSON with a fixed pad: computed as given, no search", { timeout: SLOW }, async () => {
    // A plane rising 20 ft north in 100 ft; a 20 × 20 ft pad at its own middle height, vertical sides. Closed form:
    // cut = fill = width · slope · depth² / 8 = 20 · 0.2 · 400 / 8 ft³ = 200 ft³ = 7.407 yd³.
    const points: [number, number, number][] = [];
    for (let x = 0; x <= 200; x += 20) for (let y = 0; y <= 200; y += 20) points.push([x, y, 100 + 0.2 * y]);
    const { body, status } = await request(server)
      .post("/v1/studies")
      .send({
        topo: { points },
        boundary: {
          ring: [
            [10, 10],
            [190, 10],
            [190, 190],
            [10, 190],
          ],
        },
        survey: { unit: "ft" },
        brief: {
          pads: [
            {
              name: "A",
              ring: [
                [90, 90],
                [110, 90],
                [110, 110],
                [90, 110],
              ],
              elevationFt: 120,
              sides: "vertical",
            },
          ],
        },
      });
    expect(status).toBe(201);
    expect(body.schemes.map(({ id, kind }: StudyDocument["schemes"][number]) => [id, kind])).toEqual([
      ["fixed-pad-A", "fixed-pad"],
    ]);
    expect(body.schemes[0].earthwork.bankCutYd3).toBeCloseTo(200 / 27, 2);
    expect(body.schemes[0].earthwork.compactedFillYd3).toBeCloseTo(200 / 27, 2);
    expect(body.terrain.meanSlopePct).toBeCloseTo(20, 6);
  });

  test("a refusal is problem details over the wire", async () => {
    const { body, status } = await request(server)
      .post("/v1/studies")
      .send({ rules: { slopeLimitPct: "steep" } });
    expect(status).toBe(422);
    expect(problemSchema.parse(body).errors[0]?.where).toBe("rules.slopeLimitPct");
  });

  test("a study past its time is stopped and refused, and the service goes on", {
    timeout: SLOW,
  }, async () => {
    const impatient = await openService({ LOTBRIEF_STUDY_SECONDS: "1", LOTBRIEF_THREADS: "1" });
    try {
      // A grid of 300,000 shots takes longer than a second on any machine this runs on.
      const side = 550;
      const lines = ["P,N,E,Z"];
      for (let i = 0; i < side * side; i++) {
        const [x, y] = [(i % side) * 2, Math.floor(i / side) * 2];
        lines.push(
          `${i + 1},${y},${x},${(100 + 0.1 * y + 3 * Math.sin(x / 9) * Math.cos(y / 7)).toFixed(2)}`,
        );
      }
      const payload = {
        topo: lines.join("\n"),
        boundary: {
          ring: [
            [20, 20],
            [1000, 20],
            [1000, 1000],
            [20, 1000],
          ],
        },
        survey: { unit: "ft" },
      };
      const answer = await impatient.app.inject({ method: "POST", url: "/v1/studies", payload });
      expect(answer.statusCode).toBe(422);
      expect(answer.json().type).toBe("/problems/study-too-heavy");
      expect((await impatient.app.inject("/readyz")).statusCode).toBe(200);
    } finally {
      await impatient.close();
    }
  });
});
