/** Layers of a survey in state plane feet go out as RFC 7946: WGS 84, outer rings counter-clockwise, no foreign frame. */
import type { MultiPolygon, Polygon } from "geojson";
import proj4 from "proj4";
import { afterAll, beforeAll, expect, test } from "vitest";
import { openService, type TestService } from "./service.js";

let service: TestService;
beforeAll(async () => {
  service = await openService();
}, 120_000);
afterAll(() => service.close());

/**
 * NAD83 / California zone 3 in US survey feet, written here from the zone's published constants (NOAA Manual NOS NGS 5:
 * parallels 37°04′ and 38°26′, origin 36°30′ N 120°30′ W, 2,000,000 m and 500,000 m), apart from the table of the product.
 */
const ZONE_3 =
  "+proj=lcc +lat_1=37.06666666666667 +lat_2=38.43333333333333 +lat_0=36.5 +lon_0=-120.5 +x_0=2000000 +y_0=500000 +ellps=GRS80 +towgs84=0,0,0,0,0,0,0 +to_meter=0.3048006096012192 +no_defs";
const [EASTING, NORTHING] = [6_050_000, 2_110_000];
const corners = [
  [0, 0],
  [180, 0],
  [180, 160],
  [0, 160],
].map(([x, y]) => [EASTING + x!, NORTHING + y!] as [number, number]);

function signedArea(ring: readonly number[][]): number {
  return ring.slice(1).reduce((sum, [x, y], i) => sum + ring[i]![0]! * y! - x! * ring[i]![1]!, 0) / 2;
}

test("the boundary comes back in degrees within a hundredth of a foot, wound counter-clockwise", async () => {
  const rows: string[] = [];
  for (let x = -40; x <= 220; x += 20)
    for (let y = -40; y <= 200; y += 20)
      rows.push(
        `${rows.length + 1},${NORTHING + y},${EASTING + x},${(300 + 0.12 * y + 0.01 * x).toFixed(2)},GS`,
      );
  const answer = await service.app.inject({
    method: "POST",
    url: "/v1/studies",
    payload: {
      survey: { unit: "us-ft", crs: "EPSG:2227" },
      topo: `point,northing,easting,elevation,description\n${rows.join("\n")}`,
      boundary: { ring: corners },
      brief: { floorAreaFt2: 2000, basement: "none" },
    },
  });
  expect(answer.statusCode, answer.body.slice(0, 500)).toBe(201);
  const { links } = answer.json();
  const layer = (await service.app.inject(links.layers.boundary)).json();
  expect(layer.frame).toBeUndefined();
  const shape = layer.features[0].geometry as Polygon | MultiPolygon;
  const ring = shape.type === "Polygon" ? shape.coordinates[0]! : shape.coordinates[0]![0]!;
  expect(signedArea(ring)).toBeGreaterThan(0);
  for (const corner of corners) {
    const [lon, lat] = proj4(ZONE_3, "WGS84").forward(corner);
    const nearest = Math.min(
      ...ring.map(([x, y]) => Math.hypot((x! - lon!) * 288_000, (y! - lat!) * 364_000)),
    );
    expect(nearest).toBeLessThan(0.01);
  }
  // every other layer answers in degrees too
  for (const url of Object.values(links.layers) as string[]) {
    const { features } = (await service.app.inject(url)).json();
    for (const [x, y] of JSON.stringify(features)
      .match(/\[-?\d+\.\d+,-?\d+\.\d+\]/g)
      ?.map((s) => JSON.parse(s) as [number, number]) ?? []) {
      expect(x).toBeGreaterThan(-124);
      expect(x).toBeLessThan(-117);
      expect(y).toBeGreaterThan(36);
      expect(y).toBeLessThan(39);
    }
  }
}, 120_000);
