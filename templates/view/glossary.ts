/** Trade words of the report in plain ones; printed at its end and behind each marked word. */
export const GLOSSARY = [
  {
    id: "apron",
    word: "apron",
    meaning: "The strip of graded ground around a house, so that people and water can pass.",
  },
  {
    id: "bank",
    word: "bank volume",
    meaning: "Dirt measured as it lies in the ground, before anyone digs it.",
  },
  {
    id: "batter",
    word: "batter",
    meaning:
      "The slope a face of cut or filled ground is left at: 2 to 1 runs two feet for each foot of height.",
  },
  {
    id: "benches",
    word: "key and benches",
    meaning: "Steps cut into sloping ground so that new fill does not slide on it.",
  },
  {
    id: "breakline",
    word: "breakline",
    meaning: "A line on the ground where the slope changes sharply, such as the top of a bank.",
  },
  { id: "catchment", word: "catchment", meaning: "All the ground whose rain runs to one place." },
  {
    id: "compacted",
    word: "compacted volume",
    meaning: "Dirt measured after it is rolled firm in place; less than it was in the ground.",
  },
  {
    id: "contour",
    word: "contour",
    meaning: "A line on a map along which the ground has the same height. Close lines mean steep ground.",
  },
  { id: "cut", word: "cut", meaning: "Ground dug away; also how deep." },
  { id: "datum", word: "datum", meaning: "What a survey's heights are measured from." },
  {
    id: "daylight",
    word: "daylight basement",
    meaning: "A lower floor that is in the ground on the uphill side and open on the downhill side.",
  },
  {
    id: "easement",
    word: "easement",
    meaning: "Somebody else's right to use part of a lot, such as for a drain or a road.",
  },
  { id: "expansive", word: "expansive soil", meaning: "Clay that swells when wet and shrinks when dry." },
  { id: "export", word: "export", meaning: "Dirt that must leave the lot, counted loose in the truck." },
  { id: "fill", word: "fill", meaning: "Ground built up with dirt; also how high." },
  {
    id: "grade",
    word: "grade",
    meaning:
      "Steepness, as feet of rise for each hundred feet along (percent); also the surface of the ground.",
  },
  {
    id: "gradebeam",
    word: "grade beam",
    meaning: "A concrete beam at ground level that carries walls from pier to pier.",
  },
  { id: "invert", word: "invert", meaning: "The inside bottom of a pipe: the height water runs at." },
  {
    id: "lightwell",
    word: "light well",
    meaning: "A walled pit outside a basement window that gives light and a way out.",
  },
  {
    id: "loose",
    word: "loose volume",
    meaning: "Dirt measured in the truck; about a quarter more than it was in the ground.",
  },
  {
    id: "misclosure",
    word: "misclosure",
    meaning: "How far the written courses of a boundary miss their own starting point.",
  },
  {
    id: "p50",
    word: "low, middle, high",
    meaning:
      "Out of ten tries, one comes out below the low, five below the middle, nine below the high (P10, P50, P90).",
  },
  { id: "pad", word: "pad", meaning: "Ground made level for a house." },
  {
    id: "pier",
    word: "pier",
    meaning: "A concrete post in a drilled hole that carries a house down to firm ground.",
  },
  {
    id: "premium",
    word: "what the hill adds",
    meaning:
      "Cost of the house on this lot less the cost of the same house on flat land, worked out try by try.",
  },
  {
    id: "retained",
    word: "retained height",
    meaning: "How much higher the ground is on one side of a wall than on the other.",
  },
  {
    id: "section",
    word: "section",
    meaning: "A drawing of the ground as if cut open along a line and seen from the side.",
  },
  { id: "setback", word: "setback", meaning: "How far a building must stay from a lot line." },
  {
    id: "shoring",
    word: "shoring",
    meaning: "Braces that hold up the side of a hole while people work in it.",
  },
  {
    id: "shrink",
    word: "swell and shrink",
    meaning: "Dirt takes more room when dug (swell) and less when rolled firm (shrink).",
  },
  {
    id: "sigma",
    word: "one sigma",
    meaning: "About two times in three the true value lies within this much of the printed one.",
  },
  { id: "swale", word: "ditch or swale", meaning: "A shallow channel that leads water around a house." },
  {
    id: "tin",
    word: "facets",
    meaning: "Triangles between survey shots; together they are the ground as measured.",
  },
  {
    id: "truckload",
    word: "truckload",
    meaning: "One dump truck, filled to its bed or to its legal weight, whichever comes first.",
  },
] as const;

export type TermId = (typeof GLOSSARY)[number]["id"];
