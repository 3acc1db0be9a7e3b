/** Points as read, in the file's own coordinates and units: columns of numbers, not objects. */

export interface PointTable {
  readonly count: number;
  readonly easting: Float64Array;
  readonly northing: Float64Array;
  readonly elevation: Float64Array;
  /** 1-based line of the file (or place in the list). */
  readonly row: Int32Array;
  /** Index into `words` of the description; −1 for none. */
  readonly description: Int32Array;
  /** Index into `words` of the line the point belongs to; −1 for none. */
  readonly line: Int32Array;
  readonly words: readonly string[];
  /** Where the points come with a surface: so many are its corners; those behind them carry no ground. */
  readonly surfaceCount?: number;
}

/** A table that grows while a file is read. */
export class PointTableBuilder {
  private count = 0;
  private easting: Float64Array;
  private northing: Float64Array;
  private elevation: Float64Array;
  private row: Int32Array;
  private description: Int32Array;
  private line: Int32Array;
  private readonly words: string[] = [];
  private readonly wordIndex = new Map<string, number>();

  constructor(expected: number) {
    const room = Math.max(16, expected);
    this.easting = new Float64Array(room);
    this.northing = new Float64Array(room);
    this.elevation = new Float64Array(room);
    this.row = new Int32Array(room);
    this.description = new Int32Array(room);
    this.line = new Int32Array(room);
  }

  /** Index of a word, the same for the same word; −1 for the empty one. */
  wordId(word: string): number {
    if (word === "") return -1;
    let id = this.wordIndex.get(word);
    if (id === undefined) {
      id = this.words.push(word) - 1;
      this.wordIndex.set(word, id);
    }
    return id;
  }

  word(id: number): string {
    return this.words[id] ?? "";
  }

  push(easting: number, northing: number, elevation: number, row: number, description = -1, line = -1): void {
    if (this.count === this.easting.length) this.grow();
    const i = this.count++;
    this.easting[i] = easting;
    this.northing[i] = northing;
    this.elevation[i] = elevation;
    this.row[i] = row;
    this.description[i] = description;
    this.line[i] = line;
  }

  finish(): PointTable {
    const { count } = this;
    return {
      count,
      easting: this.easting.subarray(0, count),
      northing: this.northing.subarray(0, count),
      elevation: this.elevation.subarray(0, count),
      row: this.row.subarray(0, count),
      description: this.description.subarray(0, count),
      line: this.line.subarray(0, count),
      words: this.words,
    };
  }

  private grow(): void {
    const room = Math.ceil(this.easting.length * 1.6);
    this.easting = into(new Float64Array(room), this.easting);
    this.northing = into(new Float64Array(room), this.northing);
    this.elevation = into(new Float64Array(room), this.elevation);
    this.row = into(new Int32Array(room), this.row);
    this.description = into(new Int32Array(room), this.description);
    this.line = into(new Int32Array(room), this.line);
  }
}

function into<T extends Float64Array | Int32Array>(roomy: T, values: T): T {
  roomy.set(values);
  return roomy;
}
