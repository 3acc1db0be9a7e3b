/** Where a number came from when nobody measured or typed it: printed in every report. */
export interface Assumption {
  /** What a reader would call it: "Slope limit for building". */
  readonly name: string;
  readonly value: number | string;
  readonly unit: string;
  /** Source in words: "given in the request", "IRC R310 (2021)", "common practice, no source", "from memory, order of magnitude". */
  readonly origin: string;
  /** Request path that changes it, e.g. "rules.slopeLimitPct"; absent when it cannot be changed. */
  readonly changeWith?: string;
}

/** A refusal or a caution about input, in words a surveyor's assistant can act on. */
export interface Problem {
  /** Stable kebab-case code, e.g. "topo-too-few-points". */
  readonly code: string;
  /** Which part of the input: "topo", "boundary", "request.rules.setbacksFt". */
  readonly where: string;
  /** 1-based line of the file, header included. */
  readonly row?: number;
  /** Column name or 1-based number. */
  readonly column?: string;
  readonly message: string;
  readonly remedy: string;
}
