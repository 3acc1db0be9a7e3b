import { expect, test } from "vitest";
import { demoStudy } from "../report/whole-studies.js";

// The lane to the cheapest place of the stepped pad on this invented spur cannot be laid; a place beside it has one.
test("where no car reaches the best place, the next best one that a car reaches is taken", async () => {
  const { study } = await demoStudy("wren-spur");
  const stepped = study.schemes.find(({ kind }) => kind === "stepped-pad")!;
  expect(stepped.driveway).not.toBeNull();
  expect(stepped.feasible).toBe(true);
});
