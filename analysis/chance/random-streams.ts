/** Random numbers that belong to a name: the same name and seed give the same numbers in every scheme and on every lot. */
import { xoroshiro128plus } from "pure-rand/generator/xoroshiro128plus";
import type { RandomGenerator } from "pure-rand/types/RandomGenerator";
import { skipN } from "pure-rand/utils/skipN";

/** The first numbers of neighbouring seeds resemble each other. */
const DISCARDED_DRAWS = 64;
const TWO_POW_31 = 2 ** 31;

/** Even numbers in (0, 1). */
export function uniforms(seed: number, name: string, count: number): Float64Array {
  const generator = generatorOf(seed, name);
  const out = new Float64Array(count);
  // the generator gives whole numbers from −2³¹ to 2³¹ − 1
  for (let i = 0; i < count; i++) out[i] = (generator.next() + 0.5) / (2 * TWO_POW_31) + 0.5;
  return out;
}

/** Numbers of the standard normal distribution by the polar method (Marsaglia and Bray 1964): a point in the unit circle gives two. */
export function normals(seed: number, name: string, count: number): Float64Array {
  const generator = generatorOf(seed, name);
  const out = new Float64Array(count + (count & 1));
  for (let i = 0; i < out.length; ) {
    const x = (generator.next() + 0.5) / TWO_POW_31;
    const y = (generator.next() + 0.5) / TWO_POW_31;
    const square = x * x + y * y;
    if (square >= 1) continue;
    const stretch = Math.sqrt((-2 * Math.log(square)) / square);
    out[i++] = x * stretch;
    out[i++] = y * stretch;
  }
  return out.subarray(0, count);
}

function generatorOf(seed: number, name: string): RandomGenerator {
  const generator = xoroshiro128plus(seedOf(seed, name));
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
