/** Coordinate systems: published examples, PROJ's values for the zones offered, and frames that must not be mixed. */
import { assert, describe, test } from "vitest";
import { ringContains, signedAreaFt2 } from "../../analysis/geometry/plane.js";
import { inUsUnits } from "../../analysis/measure.js";
import { between, crsOf, planeThrough, WGS84 } from "../../analysis/survey/crs.js";
import { toLocal, toSurvey } from "../../analysis/survey/index.js";
import { loadProjections } from "../../analysis/survey/projections.js";
import { METRES_PER_US_SURVEY_FOOT, metresPerUnit } from "../../analysis/units.js";
import { codesOf, problemsFrom, reference, surveyFrom } from "./intake.js";

await loadProjections();

// 85 FR 62698; the survey foot is 2 parts in a million longer
test("a US survey foot is 1200/3937 m, an international foot 0.3048 m", () => {
  assert.equal(METRES_PER_US_SURVEY_FOOT, 1200 / 3937);
  assert.closeTo(2_000_000 * (metresPerUnit("us-ft") - metresPerUnit("ft")), 4.0 * 0.3048, 0.001);
});

test("EPSG Guidance Note 7-2, Lambert Conic Conformal (2SP): NAD27 Texas South Central in US survey feet", () => {
  const clarke = "+ellps=clrk66 +no_defs";
  const texas = {
    code: "",
    name: "",
    unit: "us-ft" as const,
    proj4: `+proj=lcc +lat_1=${28 + 23 / 60} +lat_2=${30 + 17 / 60} +lat_0=${27 + 50 / 60} +lon_0=-99 +x_0=${2_000_000 * METRES_PER_US_SURVEY_FOOT} +y_0=0 ${clarke} +units=us-ft`,
  };
  const degrees = { ...texas, unit: "degree" as const, proj4: `+proj=longlat ${clarke}` };
  const [easting, northing] = between(degrees, texas)([-96, 28.5]);
  assert.closeTo(easting, 2_963_503.91, 0.006);
  assert.closeTo(northing, 254_759.8, 0.006);
});

/** cs2cs of PROJ 9.1.1 (Debian), from NAD83 degrees. */
describe("zones offered agree with PROJ to a thousandth", () => {
  test.each([
    ["EPSG:2227", -122.2, 37.75, 6_070_191.9248, 2_100_017.9386, "us-ft"],
    ["EPSG:6420", -122.2, 37.75, 6_070_191.9248, 2_100_017.9386, "us-ft"],
    ["EPSG:26943", -122.2, 37.75, 1_850_198.199, 640_086.7478, "m"],
    ["EPSG:2285", -122.3, 47.6, 1_278_588.8793, 222_309.7991, "us-ft"],
    ["EPSG:2256", -111, 46.5, 1_590_972.7736, 823_915.085, "ft"],
    ["EPSG:2272", -75.3, 40, 2_654_804.6393, 252_378.102, "us-ft"],
    ["EPSG:26931", -134.4, 58.3, 775_672.462, 720_098.3296, "m"],
    ["EPSG:26910", -121, 38.5, 674_403.7976, 4_263_188.7435, "m"],
    ["EPSG:6339", -121, 38.5, 674_403.7976, 4_263_188.7435, "m"],
    ["EPSG:32612", -112, 33.5, 407_112.7674, 3_707_166.6447, "m"],
  ] as const)("%s", (code, lon, lat, easting, northing, unit) => {
    const crs = crsOf(code)!;
    assert.equal(crs.unit, unit);
    const [e, n] = between(WGS84, crs)([lon, lat]);
    assert.closeTo(e, easting, 0.001);
    assert.closeTo(n, northing, 0.001);
    const [backLon, backLat] = between(crs, WGS84)([e, n]);
    assert.closeTo(backLon, lon, 1e-9);
    assert.closeTo(backLat, lat, 1e-9);
  });
  test.each(["EPSG:2056", "EPSG:3857", "EPSG:27700", "EPSG:99999"])("%s is not offered", (code) => {
    assert.equal(crsOf(code), null);
  });
});

describe("degrees", () => {
  const topo = reference("variants/12-degrees.csv");
  const boundary = reference("variants/12-degrees-boundary.csv");
  test("12: the lot has its area, the frame its plane, and layers can go back to degrees", async () => {
    const {
      frame,
      boundary: lot,
      summary,
    } = await surveyFrom({
      topo,
      boundary,
      request: { survey: { crs: "EPSG:4326" } },
    });
    assert.closeTo(signedAreaFt2(lot), 56_252.5, 0.001 * 56_252.5);
    assert.equal(summary.verticalUnit, "ft");
    assert.equal(summary.unit, "ft");
    const corner = toSurvey(frame, toLocal(frame, [-121.00034941, 38.49965678]));
    const [lon, lat] = between({ ...WGS84, proj4: frame.proj4! }, WGS84)(corner);
    assert.closeTo(lon, -121.00034941, 1e-8);
    assert.closeTo(lat, 38.49965678, 1e-8);
  });
  test("12: without a system they are asked for", async () => {
    const [problem] = await problemsFrom({ topo, boundary });
    assert.equal(problem!.code, "degrees-need-crs");
  });
  test("12: heights without a unit are asked for", async () => {
    const nameless = new TextDecoder().decode(topo).replace("elevation_ft", "elevation");
    const [problem] = await problemsFrom({
      topo: nameless,
      boundary,
      request: { survey: { crs: "EPSG:4326" } },
    });
    assert.equal(problem!.code, "vertical-unit-needed");
    const metres = await surveyFrom({
      topo: nameless,
      boundary,
      request: { survey: { crs: "EPSG:4326", verticalUnit: "m" } },
    });
    assert.closeTo(Math.max(...metres.ground.elevFt), 757.5 / 0.3048, 0.01);
  });
  test("a degree of latitude on the local plane is as long as on the ellipsoid", () => {
    // WGS 84: meridian arc of one second at 38.5° is 30.8330 m (M = a(1−e²)/(1−e² sin²φ)^1.5 = 6,360,130 m)
    const a = 6_378_137;
    const e2 = 0.00669437999014;
    const radius = (a * (1 - e2)) / (1 - e2 * Math.sin((38.5 * Math.PI) / 180) ** 2) ** 1.5;
    const plane = planeThrough([-121, 38.5]);
    const [, low] = between(WGS84, plane)([-121, 38.5 - 1 / 7200]);
    const [, high] = between(WGS84, plane)([-121, 38.5 + 1 / 7200]);
    assert.closeTo((high - low) * 0.3048, (radius * Math.PI) / 180 / 3600, 1e-5);
  });
});

test("two kinds of feet in two files are told where the same number is another place", async () => {
  // 85 FR 62698: 2 parts in a million; 6,325,000 ft from the origin that is 12.6 ft
  const at = (east: number, north: number) => ({
    topo: [
      "# units us survey feet",
      "northing,easting,elevation",
      ...Array.from(
        { length: 49 },
        (_, i) => `${north + 40 * (i % 7)},${east + 40 * Math.floor(i / 7)},${500 + i}`,
      ),
    ].join("\n"),
    boundary: [
      "# units feet",
      "corner,northing,easting",
      ...[
        [20, 20],
        [20, 220],
        [220, 220],
        [220, 20],
      ].map(([n, e], i) => `${i + 1},${north + n!},${east + e!}`),
    ].join("\n"),
  });
  const survey = await surveyFrom(at(6_000_000, 2_000_000));
  const warning = survey.summary.warnings.find(({ code }) => code === "two-feet");
  assert.match(inUsUnits(warning!.message), /12\.6 ft apart/);
  assert.notInclude(codesOf(await surveyFrom(at(5_000, 10_000))), "two-feet");
});

describe("two files in two systems", () => {
  const zone = crsOf("EPSG:2227")!;
  const corners = [
    [-122.2, 37.75],
    [-122.1993, 37.75],
    [-122.1993, 37.7506],
    [-122.2, 37.7506],
  ] as const;
  const planar = corners.map((corner) => between(WGS84, zone)(corner));
  const [[x0, y0]] = planar as [[number, number]];
  const shots = ["easting,northing,elevation"];
  for (let i = -1; i <= 6; i++)
    for (let j = -1; j <= 6; j++) shots.push(`${x0 + 40 * i},${y0 + 40 * j},${500 + i + 2 * j}`);
  const geojson = JSON.stringify({ type: "Polygon", coordinates: [[...corners, corners[0]]] });

  test("a boundary in GeoJSON degrees is brought to the topo's zone", async () => {
    const survey = await surveyFrom({
      topo: shots.join("\n"),
      boundary: geojson,
      request: { survey: { crs: "EPSG:2227" } },
    });
    assert.equal(survey.frame.unit, "us-ft");
    assert.equal(survey.frame.crs, "EPSG:2227");
    const [e, n] = toSurvey(survey.frame, survey.boundary[0]!);
    assert.closeTo(e, planar[0]![0], 1e-6);
    assert.closeTo(n, planar[0]![1], 1e-6);
  });
  test("a boundary in metres of the neighbour system is reprojected when it is named", async () => {
    const utm = crsOf("EPSG:26910")!;
    const ring = corners.map((corner) => [...between(WGS84, utm)(corner)] as [number, number]);
    const survey = await surveyFrom({
      topo: shots.join("\n"),
      request: { boundary: { ring }, survey: { crs: "EPSG:2227", boundaryCrs: "EPSG:26910" } },
    });
    const [e] = toSurvey(survey.frame, survey.boundary[0]!);
    assert.closeTo(e, planar[0]![0], 1e-4);
  });
  test("constraints and break lines in degrees are brought to the zone the survey is in", async () => {
    const [[lon, lat]] = corners;
    const line = (z: number[]) => ({
      type: "LineString",
      coordinates: [
        [lon, lat, ...z],
        [lon + 0.0006, lat + 0.0006, ...z],
      ],
    });
    const survey = await surveyFrom({
      topo: shots.join("\n"),
      boundary: geojson,
      constraints: JSON.stringify({ type: "Feature", properties: { bufferFt: 10 }, geometry: line([]) }),
      breaklines: JSON.stringify(line([503])),
      request: { survey: { crs: "EPSG:2227" } },
    });
    const [east, north] = survey.boundary[0]!;
    const [x, y] = survey.breaklines[0]![0]!;
    assert.closeTo(Math.hypot(x - east, y - north), 0, 1e-6);
    assert.isTrue(ringContains(survey.noBuild[0]!.polygons[0]![0]!, [east + 1, north + 1]));
    assert.notInclude(codesOf(survey), "constraints-off-lot");
  });
  test("calls in metres miss in metres, whatever the topo's zone is in", async () => {
    const [x, y] = between(WGS84, crsOf("EPSG:26910")!)(corners[0]);
    // 60 m along each side but the last, which is 1 m short
    const calls = "N 90° E 60.00; N 0° E 60.00; S 90° W 60.00; S 0° E 59.00";
    const survey = await surveyFrom({
      topo: shots.join("\n"),
      request: {
        boundary: { start: [x, y], calls },
        survey: { crs: "EPSG:2227", boundaryCrs: "EPSG:26910" },
      },
    });
    assert.closeTo(survey.closure!.misclosureFt, 1 / 0.3048, 1e-9);
  });
  test("degrees on a local topo are refused", async () => {
    const [problem] = await problemsFrom({ topo: shots.join("\n"), boundary: geojson });
    assert.equal(problem!.code, "mixed-frames");
  });
  test("metres stated for a zone in feet are refused", async () => {
    const [problem] = await problemsFrom({
      topo: shots.join("\n"),
      boundary: geojson,
      request: { survey: { crs: "EPSG:2227", unit: "m" } },
    });
    assert.equal(problem!.code, "unit-against-crs");
  });
  test("the wrong foot is told, and the zone's foot used", async () => {
    const survey = await surveyFrom({
      topo: shots.join("\n"),
      boundary: geojson,
      request: { survey: { crs: "EPSG:2227", unit: "ft" } },
    });
    assert.include(codesOf(survey), "foot-against-crs");
    assert.equal(survey.frame.unit, "us-ft");
  });
});
