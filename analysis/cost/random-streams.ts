/** Random numbers that belong to a name: the same name and seed give the same numbers in every scheme and on every lot. */
import { xoroshiro128plus } from "pure-rand/generator/xoroshiro128plus";
import { skipN } from "pure-rand/utils/skipN";

/** The first numbers of neighbouring seeds resemble each other. */
const DISCARDED_DRAWS = 64;
const TWO_POW_32 = 2 ** 32;

/** Even numbers in (0, 1). */
export function uniforms(seed: number, name: string, count: number): Float64Array {
  const generator = xoroshiro128plus(seedOf(seed, name));
  skipN(generator, DISCARDED_DRAWS);
  const out = new Float64Array(count);
  for (let i = 0; i < count; i++) out[i] = ((generator.next() >>> 0) + 0.5) / TWO_POW_32;
  return out;
}

/** Numbers of the standard normal distribution (Box and Muller 1958: √(−2 ln u)·(cos 2πv, sin 2πv)). */
export function normals(seed: number, name: string, count: number): Float64Array {
  const u = uniforms(seed, name, count + (count & 1));
  for (let i = 0; i < u.length; i += 2) {
    const radius = Math.sqrt(-2 * Math.log(u[i]!));
    const angle = 2 * Math.PI * u[i + 1]!;
    u[i] = radius * Math.cos(angle);
    u[i + 1] = radius * Math.sin(angle);
  }
  return count & 1 ? u.subarray(0, count) : u;
}

/** FNV-1a over the seed and the name: order in a file plays no part. */
function seedOf(seed: number, name: string): number {
  let hash = 0x811c9dc5;
  for (let shift = 0; shift < 32; shift += 8) hash = Math.imul(hash ^ ((seed >>> shift) & 0xff), 0x01000193);
  for (let i = 0; i < name.length; i++) hash = Math.imul(hash ^ name.charCodeAt(i), 0x01000193);
  return hash | 0;
}
