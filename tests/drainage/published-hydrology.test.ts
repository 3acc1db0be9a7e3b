/** Formulas against published numbers; sources beside each. */
import { describe, expect, test } from "vitest";
import {
  concentrationMin,
  kirpichMin,
  rationalPeakCfs,
  sheetFlowMin,
} from "../../analysis/drainage/hydrology.js";
import { fullPipe, pipeForFlowIn, swaleForFlow } from "../../analysis/drainage/pipes.js";

describe("rational method", () => {
  test("0.20 square miles, C 0.4, 2.87 in/h is 146.944 cfs with k = 1 (published homework example)", () => {
    expect(rationalPeakCfs(0.4, 2.87, 128 * 43_560, 1)).toBeCloseTo(146.944, 3);
    expect(rationalPeakCfs(0.4, 2.87, 128 * 43_560)).toBeCloseTo(148.12, 2);
  });

  test("a roof of 2,000 ft² in 4 in/h, C 0.95, k = 1 is 78.3 gpm (arithmetic)", () => {
    expect(rationalPeakCfs(0.95, 4, 2000, 1) * 448.831).toBeCloseTo(78.3, 1);
  });
});

describe("time of concentration", () => {
  // TxDOT Hydraulic Design Manual eq. 4-15, evaluated by hand
  test.each([
    [1000, 0.1, 3.8645],
    [300, 0.2, 1.1711],
  ])("Kirpich over %d ft at slope %f is %f min", (lengthFt, slope, minutes) => {
    expect(kirpichMin(lengthFt, slope)).toBeCloseTo(minutes, 3);
  });

  test("Kirpich in metres: 3,000 m at 0.003 with K 0.01947 is 86.7077 min (published example)", () => {
    expect(kirpichMin(3000, 0.003, 0.01947)).toBeCloseTo(86.7077, 3);
  });

  test("NRCS TR-55 example 3-1, sheet flow: n 0.24, 100 ft, P2 3.6 in, slope 0.01 is 0.30 h (from memory)", () => {
    expect(sheetFlowMin({ n: 0.24, lengthFt: 100, p2In: 3.6, slope: 0.01 }) / 60).toBeCloseTo(0.296, 3);
  });

  test("a small steep catchment answers in the least time, five minutes", () => {
    expect(concentrationMin(30, 9)).toBe(5);
    expect(concentrationMin(600, 20)).toBeGreaterThan(5);
  });
});

describe("Manning, pipe running full", () => {
  // V = (1.486/n)(D/4)^(2/3) S^(1/2) worked by hand for 1 %; 12 in at n 0.013 is 3.56 cfs in any drainage manual
  test.each([
    [4, 0.01, 2.835, 0.2474],
    [4, 0.013, 2.181, 0.1903],
    [6, 0.012, 3.096, 0.6079],
    [8, 0.012, 3.75, 1.3091],
    [12, 0.013, 4.536, 3.5628],
  ])("%d in, n %f: %f ft/s, %f cfs", (diameterIn, n, velocity, cfs) => {
    const pipe = fullPipe(diameterIn, 0.01, n);
    expect(pipe.velocityFtPerS).toBeCloseTo(velocity, 3);
    expect(pipe.cfs).toBeCloseTo(cfs, 3);
  });

  test("flow grows with the root of the slope, the 8/3 power of the diameter and 1/n", () => {
    const q = fullPipe(6, 0.01, 0.012).cfs;
    expect(fullPipe(6, 0.04, 0.012).cfs / q).toBeCloseTo(2, 9);
    expect(fullPipe(12, 0.01, 0.012).cfs / q).toBeCloseTo(2 ** (8 / 3), 9);
    expect(fullPipe(6, 0.01, 0.024).cfs / q).toBeCloseTo(0.5, 9);
  });

  test("the pipe chosen carries the flow and the next smaller does not", () => {
    expect(fullPipe(pipeForFlowIn(0.5, 0.01), 0.01).cfs).toBeGreaterThanOrEqual(0.5);
    expect(pipeForFlowIn(0.5, 0.01)).toBe(6);
    expect(fullPipe(4, 0.01).cfs).toBeLessThan(0.5);
  });

  test("a swale's depth and speed satisfy Manning's formula", () => {
    const cfs = 2.3;
    const { depthIn, velocityFtPerS } = swaleForFlow(cfs, 0.02);
    const y = depthIn / 12 - 0.5;
    const area = 3 * y * y;
    const radius = area / (2 * y * Math.sqrt(10));
    expect((1.486 / 0.03) * radius ** (2 / 3) * Math.sqrt(0.02) * area).toBeCloseTo(cfs, 6);
    expect(velocityFtPerS * area).toBeCloseTo(cfs, 6);
  });
});
