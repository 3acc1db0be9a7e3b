/** Puts words on drawings so that none lies on another, at the size a phone shows them. */
import { el, escapeText, type PagePoint, px } from "./svg.js";

/** Text height in drawing units on a wide page; report.css enlarges it by PHONE_SCALE in narrow figures. */
const TEXT_PX = { small: 11, normal: 12.5, large: 15 } as const;
const PHONE_SCALE = 1.55;
const GAP_PX = 2;

export interface Label {
  readonly x: number;
  readonly y: number;
  readonly text: string;
  readonly size?: keyof typeof TEXT_PX;
  readonly anchor?: "start" | "middle" | "end";
  /** Clockwise. */
  readonly turnDeg?: number;
  readonly kind?: string;
}

interface Box {
  readonly x0: number;
  readonly y0: number;
  readonly x1: number;
  readonly y1: number;
}

const NARROW = /[iljtfr.,:;'|!() \u00a0]/;
const WIDE = /[mwMW%@—]/;

/** Width of a line of text, an upper bound over common serif and sans faces, in drawing units. */
export function textWidth(text: string, heightPx: number): number {
  let ems = 0;
  for (const c of text) ems += NARROW.test(c) ? 0.42 : WIDE.test(c) ? 1.02 : /[A-Z]/.test(c) ? 0.78 : 0.64;
  return ems * heightPx;
}

/** Corners of the room a label may take on any page. */
export function cornersOf({
  x,
  y,
  text,
  size = "normal",
  anchor = "start",
  turnDeg = 0,
}: Label): PagePoint[] {
  const height = TEXT_PX[size] * PHONE_SCALE;
  const width = textWidth(text, height);
  const left = anchor === "start" ? 0 : anchor === "middle" ? -width / 2 : -width;
  const corners = [
    [left, -height * 0.95],
    [left + width, -height * 0.95],
    [left, height * 0.3],
    [left + width, height * 0.3],
  ] as const;
  const c = Math.cos((turnDeg * Math.PI) / 180);
  const s = Math.sin((turnDeg * Math.PI) / 180);
  return corners.map(([u, v]) => [x + u * c - v * s, y + u * s + v * c]);
}

function boxOfLabel(label: Label): Box {
  const corners = cornersOf(label);
  const xs = corners.map(([x]) => x);
  const ys = corners.map(([, y]) => y);
  return { x0: Math.min(...xs), y0: Math.min(...ys), x1: Math.max(...xs), y1: Math.max(...ys) };
}

export interface LabelField {
  /** Keeps labels off a place. */
  readonly avoid: (box: Box) => void;
  /** Draws the first of the candidates that is free; false when none is. */
  readonly place: (candidates: readonly Label[]) => boolean;
  readonly svg: () => string;
}

/** `plates`: paper behind each label, for print, where the strokes around letters would make a file ten times heavier. */
export function labelField(width: number, height: number, plates = false): LabelField {
  const taken: Box[] = [];
  const drawn: string[] = [];
  const free = (box: Box) =>
    box.x0 >= 0 &&
    box.y0 >= 0 &&
    box.x1 <= width &&
    box.y1 <= height &&
    !taken.some(
      (t) =>
        box.x0 < t.x1 + GAP_PX && box.x1 > t.x0 - GAP_PX && box.y0 < t.y1 + GAP_PX && box.y1 > t.y0 - GAP_PX,
    );
  return {
    avoid: (box) => {
      taken.push(box);
    },
    place: (candidates) => {
      for (const label of candidates) {
        const box = boxOfLabel(label);
        if (!free(box)) continue;
        taken.push(box);
        drawn.push((plates && label.kind !== "text-on-dark" ? plateOf(label) : "") + textOf(label));
        return true;
      }
      return false;
    },
    svg: () => el("g", { class: "labels" }, drawn.join("")),
  };
}

export function textOf({ x, y, text, size = "normal", anchor = "start", turnDeg = 0, kind }: Label): string {
  const classes = [size === "normal" ? "" : `text-${size}`, kind ?? ""].filter(Boolean).join(" ");
  return el(
    "text",
    {
      x,
      y,
      "text-anchor": anchor === "start" ? undefined : anchor,
      class: classes || undefined,
      transform: turnDeg ? `rotate(${px(turnDeg)} ${px(x)} ${px(y)})` : undefined,
    },
    escapeText(text),
  );
}

/** `textWidth` is an upper bound; letters fill about this share of it. */
const FILLED_SHARE = 0.84;

function plateOf({ x, y, text, size = "normal", anchor = "start", turnDeg = 0 }: Label): string {
  const height = TEXT_PX[size];
  const width = FILLED_SHARE * textWidth(text, height) + 4;
  const left = anchor === "start" ? -2 : anchor === "middle" ? -width / 2 : 2 - width;
  return el("rect", {
    class: "plate",
    x: x + left,
    y: y - 0.85 * height,
    width,
    height: 1.15 * height,
    transform: turnDeg ? `rotate(${px(turnDeg)} ${px(x)} ${px(y)})` : undefined,
  });
}

/** The same words tried around a point: right, left, above, below. */
export function around(
  x: number,
  y: number,
  text: string,
  more: Omit<Label, "x" | "y" | "text" | "anchor"> = {},
  off = 7,
): Label[] {
  const down = TEXT_PX[more.size ?? "normal"] * PHONE_SCALE;
  return [
    { ...more, x: x + off, y: y + down * 0.35, text, anchor: "start" },
    { ...more, x: x - off, y: y + down * 0.35, text, anchor: "end" },
    { ...more, x, y: y - off, text, anchor: "middle" },
    { ...more, x, y: y + off + down * 0.9, text, anchor: "middle" },
    { ...more, x: x + off, y: y - off, text, anchor: "start" },
    { ...more, x: x - off, y: y - off, text, anchor: "end" },
    { ...more, x: x + off, y: y + off + down * 0.8, text, anchor: "start" },
    { ...more, x: x - off, y: y + off + down * 0.8, text, anchor: "end" },
  ];
}
