/** Random numbers that belong to a name: the same name and seed give the same numbers in every scheme and on every lot. */
import { xorshift128plus } from "pure-rand/generator/xorshift128plus";
import type { RandomGenerator } from "pure-rand/types/RandomGenerator";
import { skipN } from "pure-rand/utils/skipN";
import { normalQuantile } from "./normal-quantile.js";

/** The first numbers of neighbouring seeds resemble each other. */
const DISCARDED_DRAWS = 64;
const TWO_POW_32 = 2 ** 32;

/** Scores at even steps of probability; straight between them, which is good to 0.0002 outside the last TAIL steps. */
const STEPS = 4096;
const TAIL = 16;
const PER_STEP = TWO_POW_32 / STEPS;
const SCORES = Float64Array.from({ length: STEPS + 1 }, (_, k) =>
  k === 0 ? -Infinity : k === STEPS ? Infinity : normalQuantile(k / STEPS),
);

/** Even numbers in (0, 1). */
export function uniforms(seed: number, name: string, count: number): Float64Array {
  const generator = generatorOf(seed, name);
  const out = new Float64Array(count);
  for (let i = 0; i < count; i++) out[i] = ((generator.next() >>> 0) + 0.5) / TWO_POW_32;
  return out;
}

/** Numbers of the standard normal distribution, by its inverse: one even number makes one. */
export function normals(
  seed: number,
  name: string,
  count: number,
  out: Float64Array = new Float64Array(count),
): Float64Array {
  const generator = generatorOf(seed, name);
  for (let i = 0; i < count; i++) {
    const even = generator.next() >>> 0;
    const step = even >>> 20;
    if (step < TAIL || step >= STEPS - TAIL) out[i] = normalQuantile((even + 0.5) / TWO_POW_32);
    else {
      const below = SCORES[step]!;
      out[i] = below + ((even & (PER_STEP - 1)) / PER_STEP) * (SCORES[step + 1]! - below);
    }
  }
  return out;
}

function generatorOf(seed: number, name: string): RandomGenerator {
  const generator = xorshift128plus(seedOf(seed, name));
  skipN(generator, DISCARDED_DRAWS);
  return generator;
}

/** FNV-1a over the seed and the name: order in a file plays no part. */
function seedOf(seed: number, name: string): number {
  let hash = 0x811c9dc5;
  for (let shift = 0; shift < 32; shift += 8) hash = Math.imul(hash ^ ((seed >>> shift) & 0xff), 0x01000193);
  for (let i = 0; i < name.length; i++) hash = Math.imul(hash ^ name.charCodeAt(i), 0x01000193);
  return hash | 0;
}
