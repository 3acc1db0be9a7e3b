/** The best level for a pad that stays where it is. */

/** What a level costs. */
export interface LevelScore {
  score(levelFt: number): number;
}

export interface ScoredLevel {
  readonly levelFt: number;
  readonly score: number;
}

const GOLDEN = (Math.sqrt(5) - 1) / 2;

/**
 * Level with the least score between `lowFt` and `highFt`: evenly spaced looks (`looks` of them, at least 3), then golden section around the best of
 * them until `toFt`. The score jumps where a wall passes into the next price class, so this is not always the very
 * least; the placement search ends with small moves of the level that are kept when they help. Looks that are all
 * over `giveUpOver` are not followed up.
 */
export function bestLevelFt(
  lowFt: number,
  highFt: number,
  looks: number,
  toFt: number,
  at: LevelScore,
  giveUpOver = Infinity,
): ScoredLevel {
  const gap = (highFt - lowFt) / (looks - 1);
  if (!(gap > toFt / 2)) {
    const levelFt = (lowFt + highFt) / 2;
    return { levelFt, score: at.score(levelFt) };
  }
  let best = lowFt;
  let least = Infinity;
  for (let i = 0; i < looks; i++) {
    const level = lowFt + i * gap;
    const s = at.score(level);
    if (s < least) {
      least = s;
      best = level;
    }
  }
  if (2 * gap <= toFt || least > giveUpOver) return { levelFt: best, score: least };
  let a = best - gap;
  let b = best + gap;
  let c = b - GOLDEN * (b - a);
  let d = a + GOLDEN * (b - a);
  let sc = at.score(c);
  let sd = at.score(d);
  while (b - a > toFt) {
    if (sc < sd) {
      b = d;
      d = c;
      sd = sc;
      c = b - GOLDEN * (b - a);
      sc = at.score(c);
    } else {
      a = c;
      c = d;
      sc = sd;
      d = a + GOLDEN * (b - a);
      sd = at.score(d);
    }
  }
  const [inner, s] = sc < sd ? [c, sc] : [d, sd];
  return s < least ? { levelFt: inner, score: s } : { levelFt: best, score: least };
}
