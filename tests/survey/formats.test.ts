/** Formats that are not tables: LandXML, GeoTIFF, lidar, UTF-16; each on ground known from a formula. */
import { writeArrayBuffer } from "geotiff";
import { assert, describe, test } from "vitest";
import { signedAreaFt2 } from "../../analysis/geometry/plane.js";
import { toSurvey } from "../../analysis/survey/index.js";
import { codesOf, problemsFrom, surveyFrom } from "./intake.js";
import { lasFile, lazFile } from "./lidar-files.js";
import { asTable, planeShots, planeZ, SQUARE } from "./lot-on-a-plane.js";

const landxml = (inside: string) =>
  `<?xml version="1.0"?><LandXML xmlns="http://www.landxml.org/schema/LandXML-1.2" version="1.2">${inside}</LandXML>`;

describe("LandXML 1.2", () => {
  const points = planeShots().map(({ n, e, z }, i) => `<P id="${i + 1}">${n} ${e} ${z}</P>`);
  const faces = "<F>1 2 14</F><F>2 3 15</F>";
  const surface = (name: string, pnts: string, fs: string) =>
    `<Surface name="${name}"><Definition surfType="TIN"><Pnts>${pnts}</Pnts><Faces>${fs}</Faces></Definition></Surface>`;

  test("northing comes first; points of invisible faces stay out and are listed", async () => {
    const cells = Array.from({ length: 12 * 12 }, (_, i) => 13 * Math.floor(i / 12) + (i % 12) + 1);
    const all = cells.map((a) => `<F>${a} ${a + 1} ${a + 14}</F><F>${a} ${a + 14} ${a + 13}</F>`);
    const wild = '<P id="900">10100 5100 0</P><P id="901">10101 5100 0</P><P id="902">10100 5101 0</P>';
    const topo = landxml(
      `<Units><Imperial linearUnit="USSurveyFoot"/></Units><Surfaces>${surface("EG", points.join("") + wild, `${all.join("")}<F i="1">900 901 902</F>`)}</Surfaces>`,
    );
    const survey = await surveyFrom({ topo, boundary: SQUARE });
    assert.equal(survey.frame.unit, "us-ft");
    assert.equal(survey.summary.pointsRead, 172);
    assert.equal(survey.summary.pointsUsed, 169);
    assert.deepEqual(
      survey.summary.excluded.map(({ reason }) => reason),
      Array(3).fill("no corner of the surface"),
    );
    assert.includeMembers(codesOf(survey), ["surface-faces-used", "surface-holes", "points-off-surface"]);
    assert.equal(survey.faces!.corners.length, 3 * 288);
    for (const i of [0, 30, 168]) {
      const [e, n] = toSurvey(survey.frame, [survey.ground.eastFt[i]!, survey.ground.northFt[i]!]);
      assert.closeTo(survey.ground.elevFt[i]!, planeZ(e, n), 1e-6);
    }
  });
  test("a surface with nothing but invisible faces is no ground", async () => {
    const topo = landxml(`<Surfaces>${surface("EG", points.join(""), '<F i="1">1 2 14</F>')}</Surfaces>`);
    const [problem] = await problemsFrom({ topo, boundary: SQUARE });
    assert.equal(problem!.code, "topo-no-points");
  });
  test("the existing ground is chosen among surfaces, and it is said", async () => {
    const pad = '<P id="1">10050 5050 900</P><P id="2">10060 5050 900</P><P id="3">10050 5060 900</P>';
    const topo = landxml(
      `<Surfaces>${surface("Proposed pad", pad, "<F>1 2 3</F>")}${surface("Existing", points.join(""), "")}</Surfaces>`,
    );
    const survey = await surveyFrom({ topo, boundary: SQUARE });
    assert.equal(survey.summary.pointsUsed, 169);
    assert.include(codesOf(survey), "surface-chosen");
  });
  test("survey points bring their descriptions; one without a height is listed", async () => {
    const cg = planeShots().map(
      ({ n, e, z }, i) =>
        `<CgPoint name="${i}" desc="${i === 60 ? "OAK 20" : "GS"}">${n} ${e} ${z}</CgPoint>`,
    );
    const topo = landxml(`<CgPoints>${cg.join("")}<CgPoint name="x">10100.5 5100.5</CgPoint></CgPoints>`);
    const survey = await surveyFrom({ topo, boundary: SQUARE });
    assert.equal(survey.features.find(({ kind }) => kind === "tree")!.trunkIn, 20);
    assert.deepEqual(
      survey.summary.excluded.map(({ reason }) => reason),
      ["no elevation"],
    );
  });
  test("metres and break lines", async () => {
    const metric = planeShots().map(
      ({ n, e, z }, i) => `<P id="${i}">${n * 0.3048} ${e * 0.3048} ${z * 0.3048}</P>`,
    );
    const crest = [5000, 5100, 5200]
      .flatMap((e) => [10_100 * 0.3048, e * 0.3048, planeZ(e, 10_100) * 0.3048])
      .join(" ");
    const topo = landxml(
      `<Units><Metric linearUnit="meter"/></Units><Surfaces><Surface name="EG"><SourceData><Breaklines><Breakline><PntList3D>${crest}</PntList3D></Breakline></Breaklines></SourceData><Definition><Pnts>${metric.join("")}</Pnts></Definition></Surface></Surfaces>`,
    );
    const boundary = landxml(
      `<Units><Metric linearUnit="meter"/></Units><Parcels><Parcel name="1"><CoordGeom>${[
        [10000, 5000, 10000, 5200],
        [10000, 5200, 10200, 5200],
        [10200, 5200, 10200, 5000],
        [10200, 5000, 10000, 5000],
      ]
        .map(
          ([a, b, c, d]) =>
            `<Line><Start>${a! * 0.3048} ${b! * 0.3048}</Start><End>${c! * 0.3048} ${d! * 0.3048}</End></Line>`,
        )
        .join("")}</CoordGeom></Parcel></Parcels>`,
    );
    const survey = await surveyFrom({ topo, boundary });
    assert.closeTo(signedAreaFt2(survey.boundary), 40_000, 1e-4);
    assert.equal(survey.breaklines.length, 1);
    for (const [x, y, z] of survey.breaklines[0]!) {
      const [e, n] = toSurvey(survey.frame, [x, y]);
      assert.closeTo(z, planeZ(e / 0.3048, n / 0.3048), 1e-6);
    }
  });
  // area of a half circle of radius 100 on a side of 200 ft
  test.each([
    ["ccw", 40_000 + (Math.PI * 100 ** 2) / 2],
    ["cw", 40_000 - (Math.PI * 100 ** 2) / 2],
  ])("a parcel edge that curves %s", async (rot, area) => {
    const line = (a: string, b: string) => `<Line><Start>${a}</Start><End>${b}</End></Line>`;
    const curve = `<Curve rot="${rot}" crvType="arc" radius="100"><Start>10200 5200</Start><Center>10200 5100</Center><End>10200 5000</End></Curve>`;
    const boundary = landxml(
      `<Parcels><Parcel name="1"><CoordGeom>${line("10000 5000", "10000 5200")}${line("10000 5200", "10200 5200")}${curve}${line("10200 5000", "10000 5000")}</CoordGeom></Parcel></Parcels>`,
    );
    const survey = await surveyFrom({ topo: asTable(planeShots()), boundary });
    assert.closeTo(signedAreaFt2(survey.boundary), area as number, 0.005 * 315);
    assert.deepEqual([...new Set(survey.inputEdge)].sort(), [0, 1, 2, 3]);
  });
  test("a round lot is one curve that ends where it begins", async () => {
    const boundary = landxml(
      '<Parcels><Parcel name="1"><CoordGeom><Curve rot="ccw"><Start>10100 5190</Start><Center>10100 5100</Center><End>10100 5190</End></Curve></CoordGeom></Parcel></Parcels>',
    );
    const survey = await surveyFrom({ topo: asTable(planeShots()), boundary });
    assert.closeTo(signedAreaFt2(survey.boundary), Math.PI * 90 ** 2, 0.005 * 566);
  });
  test("an edge that does not reach the next is refused with its number", async () => {
    const line = (a: string, b: string) => `<Line><Start>${a}</Start><End>${b}</End></Line>`;
    const boundary = landxml(
      `<Parcels><Parcel name="1"><CoordGeom>${line("0 0", "0 100")}${line("5 100", "100 100")}${line("100 100", "0 0")}</CoordGeom></Parcel></Parcels>`,
    );
    const [problem] = await problemsFrom({ topo: asTable(planeShots()), boundary });
    assert.equal(problem!.code, "parcel-open");
    assert.match(problem!.message, /Edge 1 .* 5\.00 ft/);
  });
  test("a curve without a center is refused, not drawn straight", async () => {
    const line = (a: string, b: string) => `<Line><Start>${a}</Start><End>${b}</End></Line>`;
    for (const centre of ["", '<Center pntRef="nowhere"/>']) {
      const boundary = landxml(
        `<Parcels><Parcel name="1"><CoordGeom>${line("10000 5000", "10000 5200")}<Curve rot="ccw"><Start>10000 5200</Start>${centre}<End>10200 5200</End></Curve>${line("10200 5200", "10000 5000")}</CoordGeom></Parcel></Parcels>`,
      );
      const [problem] = await problemsFrom({ topo: asTable(planeShots()), boundary });
      assert.equal(problem!.code, "parcel-curve");
      assert.match(problem!.message, /^Edge 2 /);
    }
  });
  test("an entity is not expanded", async () => {
    const topo = `<!DOCTYPE x [<!ENTITY a "10000">]><LandXML><CgPoints><CgPoint name="1">&a; 5000 700</CgPoint></CgPoints></LandXML>`;
    const [problem] = await problemsFrom({ topo, boundary: SQUARE });
    assert.equal(problem!.code, "xml-broken");
  });
  test("faces without a list of points are no ground", async () => {
    const [problem] = await problemsFrom({
      topo: landxml(`<Surfaces>${surface("EG", "", faces)}</Surfaces>`),
      boundary: SQUARE,
    });
    assert.equal(problem!.code, "topo-no-points");
  });
});

describe("GeoTIFF grids, written by the geotiff package", () => {
  const cell = 10;
  const size = 30;
  const [west, north] = [674_000, 4_263_300];
  const ring = [
    [674_050, 4_263_050],
    [674_150, 4_263_050],
    [674_150, 4_263_150],
    [674_050, 4_263_150],
  ] as [number, number][];
  const height = (e: number, n: number) => 100 + 0.1 * (e - west) + 0.05 * (n - 4_263_000);
  const asSent = {
    ModelPixelScale: [cell, cell, 0],
    ModelTiepoint: [0, 0, 0, west, north, 0],
  };
  const southward = (c: number, r: number): [number, number] => [west + c * cell, north - r * cell];
  const grid = (
    middle: number,
    holes: readonly number[] = [],
    tags: Record<string, number[]> = asSent,
    placeOf = southward,
  ) => {
    const values = new Float32Array(size * size);
    for (let r = 0; r < size; r++)
      for (let c = 0; c < size; c++) values[r * size + c] = height(...placeOf(c + middle, r + middle));
    for (const hole of holes) values[hole] = -9999;
    return new Uint8Array(
      writeArrayBuffer(values, {
        width: size,
        height: size,
        ...tags,
        GTModelTypeGeoKey: 1,
        GTRasterTypeGeoKey: middle === 0 ? 2 : 1,
        ProjectedCSTypeGeoKey: 26910,
        GDAL_NODATA: "-9999",
        BitsPerSample: [32],
        SampleFormat: [3],
      }) as ArrayBuffer,
    );
  };
  test.each([0.5, 0])("heights stand at %d of a cell", async (middle) => {
    const survey = await surveyFrom({ topo: grid(middle), request: { boundary: { ring } } });
    assert.equal(survey.frame.crs, "EPSG:26910");
    assert.equal(survey.frame.unit, "m");
    assert.closeTo(signedAreaFt2(survey.boundary), 10_000 / 0.3048 ** 2, 0.01);
    const { ground, frame } = survey;
    for (const i of [0, 100, 555]) {
      const [e, n] = toSurvey(frame, [ground.eastFt[i]!, ground.northFt[i]!]);
      // 32-bit heights near 130 m are good to a hundredth of a millimetre
      assert.closeTo(ground.elevFt[i]! * 0.3048, height(e, n), 1e-4);
    }
    assert.include(codesOf(survey), "topo-from-grid");
  });
  // GeoTIFF 1.1, 7.2: x = a·column + b·row + c, y = d·column + e·row + f, written a b 0 c / d e 0 f / 0 0 0 0 / 0 0 0 1
  const transformed = (a: number, b: number, c: number, d: number, e: number, f: number) => ({
    tags: { ModelTransformation: [a, b, 0, c, d, e, 0, f, 0, 0, 0, 0, 0, 0, 0, 1] },
    placeOf: (col: number, row: number): [number, number] => [a * col + b * row + c, d * col + e * row + f],
  });
  const tied = { ...asSent, ModelTiepoint: [5, 7, 0, west + 5 * cell, north - 7 * cell, 0] };
  test.each([
    ["by a tie point in its midst", { tags: tied, placeOf: southward }],
    ["by a transformation", transformed(cell, 0, west, 0, -cell, north)],
    ["by a transformation, rows running north", transformed(cell, 0, west, 0, cell, north - size * cell)],
    ["turned by 30°", transformed(8.66, 5, west - 60, 5, -8.66, north - 60)],
  ])("a grid placed %s", async (_, { tags, placeOf }) => {
    const topo = grid(0.5, [], tags, placeOf);
    const { ground, frame } = await surveyFrom({ topo, request: { boundary: { ring } } });
    assert.equal(ground.count, size * size);
    for (const i of [0, 100, 555, 899]) {
      const [e, n] = toSurvey(frame, [ground.eastFt[i]!, ground.northFt[i]!]);
      assert.closeTo(ground.elevFt[i]! * 0.3048, height(e, n), 1e-4);
    }
  });
  test("cells without a height are no points", async () => {
    const survey = await surveyFrom({ topo: grid(0.5, [3, 4, 500]), request: { boundary: { ring } } });
    assert.equal(survey.summary.pointsUsed, 900 - 3);
  });
});

describe("lidar, written byte by byte", () => {
  const points = planeShots().map(({ e, n, z }, i) => ({
    x: e + 600_000,
    y: n + 4_000_000,
    z: z / 3,
    classOf: i % 10 === 0 ? 5 : 2,
  }));
  const ring = [
    [605_000, 4_010_000],
    [605_200, 4_010_000],
    [605_200, 4_010_200],
    [605_000, 4_010_200],
  ] as [number, number][];
  const offset = [600_000, 4_000_000, 0] as const;
  test.each([
    ["LAS points", lasFile],
    ["LAZ points", lazFile],
  ] as const)("%s: ground is class 2, the system comes from the file", async (format, write) => {
    const survey = await surveyFrom({
      topo: write({ points, offset, epsg: 26910 }),
      request: { boundary: { ring } },
    });
    assert.equal(survey.summary.format, format);
    assert.equal(survey.frame.crs, "EPSG:26910");
    assert.equal(survey.summary.pointsUsed, points.filter(({ classOf }) => classOf === 2).length);
    const { eastFt, northFt, elevFt, row } = survey.ground;
    const [e, n] = toSurvey(survey.frame, [eastFt[7]!, northFt[7]!]);
    const shot = points[row[7]! - 1]!;
    assert.equal(shot.classOf, 2);
    assert.closeTo(e, shot.x, 0.0006);
    assert.closeTo(n, shot.y, 0.0006);
    assert.closeTo(elevFt[7]! * 0.3048, shot.z, 0.0006);
  });
  test("model key points are ground, withheld points are deleted (ASPRS LAS 1.2: class 8; bit 7 of the class byte)", async () => {
    const ground = points.filter(({ classOf }) => classOf === 2);
    const marked = ground.map((point, i) => ({
      ...point,
      classOf: i % 3 === 0 ? 8 : i % 3 === 1 ? 2 : 2 | 128,
    }));
    const survey = await surveyFrom({
      topo: lasFile({ points: marked, offset, epsg: 26910 }),
      request: { boundary: { ring } },
    });
    assert.equal(survey.summary.pointsUsed, marked.filter((_, i) => i % 3 !== 2).length);
  });
  test("points that nobody classed are refused", async () => {
    const bare = points.map((point) => ({ ...point, classOf: 1 }));
    const [problem] = await problemsFrom({
      topo: lasFile({ points: bare, offset }),
      request: { boundary: { ring } },
    });
    assert.equal(problem!.code, "las-no-ground");
  });
  test("a file cut short says so", async () => {
    const whole = lasFile({ points, offset, epsg: 26910 });
    const survey = await surveyFrom({
      topo: whole.subarray(0, whole.length - 50),
      request: { boundary: { ring } },
    });
    assert.include(codesOf(survey), "las-cut-short");
  });
});

describe("one table in other clothes", () => {
  const table = asTable(planeShots());
  const utf16 = (text: string, big: boolean, mark: boolean) => {
    const units = [...(mark ? "\ufeff" : ""), ...text].map((c) => c.charCodeAt(0));
    const bytes = new Uint8Array(2 * units.length);
    const view = new DataView(bytes.buffer);
    units.forEach((unit, i) => {
      view.setUint16(2 * i, unit, !big);
    });
    return bytes;
  };
  test.each([
    ["UTF-16 little-endian", utf16(table, false, true)],
    ["UTF-16 big-endian", utf16(table, true, true)],
    ["UTF-16 without a mark", utf16(table, false, false)],
    ["old Mac line ends", table.replaceAll("\n", "\r")],
    ["blank lines between", table.replaceAll("\n", "\n\n")],
    ["a comma behind every row", table.replaceAll("\n", ",\n")],
    ["tabs and blanks around", table.replaceAll(",", "\t, ")],
    ["upper case", table.toUpperCase()],
    [
      "columns turned round",
      table
        .split("\n")
        .map((row) => row.split(",").reverse().join(","))
        .join("\n"),
    ],
    [
      "every field quoted",
      table
        .split("\n")
        .map((row) =>
          row
            .split(",")
            .map((f) => `"${f}"`)
            .join(","),
        )
        .join("\n"),
    ],
    [
      "numbers behind the description",
      table
        .split("\n")
        .map((row, i) => (i ? `${row},7,8` : `${row},q,r`))
        .join("\n"),
    ],
  ])("%s", async (_, topo) => {
    const survey = await surveyFrom({ topo: topo as string | Uint8Array, boundary: SQUARE });
    assert.equal(survey.summary.pointsUsed, 169);
    assert.deepEqual(survey.summary.excluded, []);
    const heights = Array.from(survey.ground.elevFt).sort((a, b) => a - b);
    const expected = planeShots()
      .map(({ z }) => z)
      .sort((a, b) => a - b);
    heights.forEach((z, i) => {
      assert.closeTo(z, expected[i]!, 0.0006);
    });
  });
});

describe("rows struck out with a comment mark", () => {
  const rows = asTable(planeShots()).split("\n");
  const byBlanks = rows.slice(1).map((row) => row.replaceAll(",", " "));
  const struckOut = (lines: readonly string[], mark: string) =>
    lines.map((line, i) => (i === 30 || i === 84 ? mark + line : line)).join("\n");
  test.each(["#", "# ", "!", "* ", "%", "//", "; "])("%s", async (mark) => {
    for (const lines of [rows, byBlanks]) {
      const survey = await surveyFrom({ topo: struckOut(lines, mark), boundary: SQUARE });
      assert.equal(survey.summary.pointsRead, 167);
      assert.equal(survey.summary.pointsUsed, 167);
    }
  });
});

describe("the lot line, either way round", () => {
  const rows = SQUARE.split("\n")
    .slice(1)
    .map((row) => row.split(",").slice(1).join(","));
  const send = (corners: readonly string[]) =>
    surveyFrom({ topo: asTable(planeShots()), boundary: `northing,easting\n${corners.join("\n")}` });
  /** Edge i of the caller runs from his corner i to his corner i + 1. */
  const edgesAreRight = async (corners: readonly string[]) => {
    const { boundary, inputEdge, frame } = await send(corners);
    assert.isAbove(signedAreaFt2(boundary), 0);
    const given = corners.map((row) => row.split(",").map(Number) as [number, number]);
    boundary.forEach((from, i) => {
      const to = boundary[(i + 1) % boundary.length]!;
      const ends = [from, to].map((at) => toSurvey(frame, at).map(Math.round).reverse().join());
      const k = inputEdge[i]!;
      const said = [given[k]!, given[(k + 1) % given.length]!].map((at) => at.join());
      assert.deepEqual([...ends].sort(), [...said].sort(), `edge ${k}`);
    });
  };
  test("counter-clockwise", () => edgesAreRight(rows));
  test("clockwise", () => edgesAreRight([...rows].reverse()));
  test("closed by its first corner", () => edgesAreRight([...rows, rows[0]!]));
  test("clockwise and closed", () => edgesAreRight([...rows.toReversed(), rows[3]!]));
  test("a corner sent twice", () => edgesAreRight([rows[0]!, rows[1]!, rows[1]!, rows[2]!, rows[3]!]));
});
