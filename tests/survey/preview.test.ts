/** The picture of what was understood: well-formed, described, to scale, every part where it belongs. */
import { SaxesParser } from "saxes";
import { assert, test } from "vitest";
import { drawSurveyPreview, type SurveyPreview } from "../../templates/drawings/survey-preview.js";

const preview: SurveyPreview = {
  id: "p",
  boundary: [
    [0, 0],
    [200, 0],
    [200, 100],
    [0, 100],
  ],
  inputEdge: [2, 1, 0, 3],
  frontage: [2],
  shots: {
    count: 4,
    eastFt: [10, 190, 190, 10],
    northFt: [10, 10, 90, 90],
    elevFt: [500, 510, 520, 530],
  },
  facets: { eastFt: [10, 190, 190, 10], northFt: [10, 10, 90, 90], triangles: [0, 1, 2, 0, 2, 3] },
  trees: [{ at: [100, 50], radiusFt: 18 }],
  leftOut: [{ at: [60, 60], row: 17, reason: 'spike <"&">' }],
  breaklines: [
    [
      [0, 50, 500],
      [200, 50, 510],
    ],
  ],
  unsurveyed: [
    [
      [
        [150, 0],
        [200, 0],
        [200, 40],
      ],
    ],
  ],
};

/** Elements of the drawing; throws on broken XML. */
function elements(svg: string): { name: string; attributes: Record<string, string>; text: string }[] {
  const found: { name: string; attributes: Record<string, string>; text: string }[] = [];
  const open: typeof found = [];
  const parser = new SaxesParser();
  parser.on("error", (error) => {
    throw error;
  });
  parser.on("opentag", ({ name, attributes }) => {
    const element = { name, attributes: { ...attributes }, text: "" };
    found.push(element);
    open.push(element);
  });
  parser.on("text", (text) => {
    const last = open.at(-1);
    if (last) last.text += text;
  });
  parser.on("closetag", () => void open.pop());
  parser.write(svg).close();
  return found;
}

const drawn = elements(drawSurveyPreview(preview));
const byClass = (name: string) =>
  drawn.filter(({ attributes }) => (attributes.class ?? "").split(" ").includes(name));
const numbers = (d: string) => (d.match(/-?[\d.]+/g) ?? []).map(Number);

test("it has a title and says in words what it shows", () => {
  const root = drawn[0]!;
  const [titleId, descId] = root.attributes["aria-labelledby"]!.split(" ");
  assert.equal(drawn.find(({ attributes }) => attributes.id === titleId)!.name, "title");
  const words = drawn.find(({ attributes }) => attributes.id === descId)!;
  assert.equal(words.name, "desc");
  assert.match(words.text, /4 corners and 4 ground shots, north up; 1 left out/);
});

test("edges carry the caller's numbers, the street is marked", () => {
  assert.deepEqual(
    byClass("edge").map(({ attributes }) => attributes["data-edge"]),
    ["2", "1", "0", "3"],
  );
  assert.deepEqual(
    byClass("edge-street").map(({ attributes }) => attributes["data-edge"]),
    ["2"],
  );
});

test("the scale bar is as long as the ground it names", () => {
  const bar = drawn.findIndex(({ attributes }) => attributes.class === "scale-bar");
  const line = drawn[bar + 1]!.attributes.d!;
  const barPx = Number(/h([\d.]+)/.exec(line)![1]);
  const barFt = Number.parseFloat(drawn[bar + 2]!.text);
  // the lot is 200 ft wide: its south side on the page
  const edge = byClass("edge").find(({ attributes }) => attributes["data-edge"] === "2")!;
  const [ax, , bx] = numbers(drawn[drawn.indexOf(edge) + 1]!.attributes.d!);
  const pxPerFt = Math.abs(bx! - ax!) / 200;
  assert.closeTo(barPx, barFt * pxPerFt, 0.3);
});

test("north is up and east is right", () => {
  const edge = (number: string) => {
    const at = drawn.indexOf(byClass("edge").find(({ attributes }) => attributes["data-edge"] === number)!);
    return numbers(drawn[at + 1]!.attributes.d!);
  };
  const south = edge("2");
  const north = edge("0");
  assert.isAbove(south[1]!, north[1]!);
  assert.isAbove(south[2]!, south[0]!);
  assert.lengthOf(byClass("north"), 1);
});

test("a side between two facets is drawn once", () => {
  // two facets: five sides
  assert.lengthOf(byClass("facets")[0]!.attributes.d!.match(/M/g)!, 5);
});

test("what was left out is crossed, with its row and reason, and nothing breaks out of the text", () => {
  const cross = drawn.indexOf(byClass("left-out")[0]!);
  assert.equal(drawn[cross + 1]!.text, 'Row 17: spike <"&">');
});

test("a million shots make a small picture", () => {
  const count = 1_000_000;
  const spread = Float64Array.from({ length: count }, (_, i) => (i * 7_919) % 200);
  const svg = drawSurveyPreview({
    ...preview,
    shots: { count, eastFt: spread, northFt: spread.map((v) => v / 2), elevFt: spread },
  });
  assert.isBelow(svg.length, 200_000);
});
