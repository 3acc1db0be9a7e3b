/** LandXML 1.2: points, surfaces, breaklines and parcels, as written. Coordinates are northing, easting, elevation. */
import { SaxesParser } from "saxes";
import type { LengthUnit } from "../units.js";

export interface XmlPoint {
  readonly row: number;
  /** Northing, easting and, where given, elevation. */
  readonly numbers: readonly number[];
  readonly word: string;
}

export interface XmlSurface {
  readonly name: string;
  /** Points by their id. */
  readonly points: Map<string, XmlPoint>;
  /** Ids of the corners of the visible faces, three in a row for each. */
  readonly faces: string[];
  /** Faces marked i="1": where the surface has a hole. */
  invisibleFaces: number;
  /** Points outside any triangulation: source data. */
  readonly data: XmlPoint[];
  readonly breaklines: XmlPoint[][];
}

export interface XmlEdge {
  readonly kind: "line" | "curve";
  readonly start: readonly number[];
  readonly end: readonly number[];
  readonly centre: readonly number[] | null;
  readonly turn: "left" | "right";
}

export interface LandXml {
  readonly unit: LengthUnit | null;
  readonly epsg: string | null;
  readonly points: XmlPoint[];
  readonly surfaces: XmlSurface[];
  readonly parcels: { readonly name: string; readonly edges: XmlEdge[] }[];
  /** First fault of the XML, with its line. */
  readonly fault: { readonly row: number; readonly message: string } | null;
  /** Entries whose numbers could not be read. */
  readonly unread: { readonly row: number; readonly text: string }[];
}

const UNITS: Readonly<Record<string, LengthUnit>> = {
  foot: "ft",
  ussurveyfoot: "us-ft",
  meter: "m",
  metre: "m",
};
const NUMBER = /^[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d{1,3})?$/;

type Attributes = Readonly<Record<string, string>>;

export function looksLikeXml(bytes: Uint8Array): boolean {
  const head = new TextDecoder().decode(bytes.subarray(0, 400)).trimStart();
  return head.startsWith("<?xml") || /^<[A-Za-z!]/.test(head);
}

/** Reads the parts of a LandXML document that say something of ground or lot lines. */
export function readLandXml(text: string): LandXml {
  const reader = new LandXmlReader();
  const parser = new SaxesParser();
  let fault: LandXml["fault"] = null;
  parser.on("error", (error) => {
    fault ??= { row: parser.line, message: error.message.replace(/^\d+:\d+:\s*/, "") };
  });
  parser.on("opentag", ({ name, attributes }) => reader.open(local(name), attributes, parser.line));
  parser.on("text", (piece) => reader.text(piece));
  parser.on("closetag", ({ name }) => reader.close(local(name)));
  const CHUNK = 1 << 16;
  for (let i = 0; i < text.length && !fault; i += CHUNK) parser.write(text.slice(i, i + CHUNK));
  if (!fault) parser.close();
  return { ...reader.result(), fault };
}

function local(name: string): string {
  return name.slice(name.indexOf(":") + 1);
}

class LandXmlReader {
  private unit: LengthUnit | null = null;
  private epsg: string | null = null;
  private readonly points: XmlPoint[] = [];
  private readonly pointsByName = new Map<string, XmlPoint>();
  private readonly surfaces: XmlSurface[] = [];
  private readonly parcels: { name: string; edges: XmlEdge[] }[] = [];
  private readonly unread: { row: number; text: string }[] = [];
  private path: string[] = [];
  private attributes: Attributes = {};
  private piece = "";
  private row = 0;
  private edge: { -readonly [K in keyof XmlEdge]?: XmlEdge[K] } | null = null;

  open(name: string, attributes: Attributes, row: number): void {
    this.path.push(name);
    this.piece = "";
    this.row = row;
    this.attributes = attributes;
    if (name === "Imperial" || name === "Metric")
      this.unit =
        UNITS[(attributes.linearUnit ?? (name === "Metric" ? "meter" : "foot")).toLowerCase()] ?? null;
    else if (name === "CoordinateSystem") this.epsg = attributes.epsgCode ?? null;
    else if (name === "Surface")
      this.surfaces.push({
        name: attributes.name ?? "",
        points: new Map(),
        faces: [],
        invisibleFaces: 0,
        data: [],
        breaklines: [],
      });
    else if (name === "Parcel") this.parcels.push({ name: attributes.name ?? "", edges: [] });
    else if ((name === "Line" || name === "Curve") && this.path.includes("Parcel"))
      this.edge = {
        kind: name === "Line" ? "line" : "curve",
        turn: attributes.rot === "cw" ? "right" : "left",
      };
  }

  text(piece: string): void {
    if (this.piece.length < 50_000_000) this.piece += piece;
  }

  close(name: string): void {
    this.path.pop();
    const surface = this.surfaces.at(-1);
    if (name === "CgPoint") this.takeCgPoint();
    else if (name === "P" && surface) {
      const point = this.point(3);
      if (point) surface.points.set(this.attributes.id ?? String(surface.points.size + 1), point);
    } else if (name === "F" && surface) this.takeFace(surface);
    else if (name === "PntList3D" && surface) this.takeList(surface);
    else if (this.edge && (name === "Start" || name === "End" || name === "Center")) this.takeEnd(name);
    else if (this.edge && (name === "Line" || name === "Curve")) this.finishEdge();
    this.piece = "";
  }

  result(): Omit<LandXml, "fault"> {
    const { unit, epsg, points, surfaces, parcels, unread } = this;
    return { unit, epsg, points, surfaces, parcels, unread };
  }

  private takeCgPoint(): void {
    const { name, code, desc } = this.attributes;
    const point = this.point(2, [code, desc].filter(Boolean).join(" "));
    if (!point) return;
    this.points.push(point);
    if (name) this.pointsByName.set(name, point);
  }

  /** A face with four corners, as surfaces of grids have, is parted from its first corner to its third. */
  private takeFace(surface: XmlSurface): void {
    const [a, b, c, d, ...more] = this.piece.trim().split(/\s+/);
    if (!a || !b || !c || more.length > 0) this.unread.push({ row: this.row, text: `F ${this.piece}` });
    else if (this.attributes.i === "1") surface.invisibleFaces++;
    else {
      surface.faces.push(a, b, c);
      if (d) surface.faces.push(a, c, d);
    }
  }

  private takeList(surface: XmlSurface): void {
    const numbers = this.numbers();
    if (!numbers) return;
    if (numbers.length % 3 !== 0) {
      this.unread.push({ row: this.row, text: this.piece });
      return;
    }
    const points: XmlPoint[] = [];
    for (let i = 0; i < numbers.length; i += 3)
      points.push({ row: this.row, numbers: numbers.slice(i, i + 3), word: "" });
    if (this.path.includes("Breakline")) surface.breaklines.push(points);
    else surface.data.push(...points);
  }

  private takeEnd(name: "Start" | "End" | "Center"): void {
    const { pntRef } = this.attributes;
    const at =
      pntRef !== undefined && this.piece.trim() === ""
        ? this.pointsByName.get(pntRef)?.numbers
        : this.numbers();
    if (!at || at.length < 2)
      this.unread.push({ row: this.row, text: pntRef ? `pntRef ${pntRef}` : this.piece });
    else if (name === "Start") this.edge!.start = at;
    else if (name === "End") this.edge!.end = at;
    else this.edge!.centre = at;
  }

  private finishEdge(): void {
    const { kind, start, end, centre = null, turn } = this.edge!;
    this.edge = null;
    if (start && end) this.parcels.at(-1)?.edges.push({ kind: kind!, start, end, centre, turn: turn! });
  }

  private point(fewest: number, word = ""): XmlPoint | null {
    const numbers = this.numbers();
    if (!numbers) return null;
    if (numbers.length >= fewest) return { row: this.row, numbers, word };
    this.unread.push({ row: this.row, text: this.piece });
    return null;
  }

  /** The numbers of the element's text; null, and listed, when one is none. */
  private numbers(): number[] | null {
    const cells = this.piece.trim().split(/\s+/);
    if (cells.every((cell) => NUMBER.test(cell) && Number.isFinite(Number(cell)))) return cells.map(Number);
    this.unread.push({ row: this.row, text: this.piece });
    return null;
  }
}
