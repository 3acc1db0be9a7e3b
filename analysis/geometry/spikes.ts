/** Spikes of a ring: places where it runs out and back along the same line. The polygon clipper may never return from one. */

/** A corner in whole units of the polygon clipper. */
export interface Corner {
  readonly x: number;
  readonly y: number;
}

/** The same loop without the corners at which it runs straight on or turns back on itself; empty where nothing is left. */
export function withoutSpikes(loop: readonly Corner[]): Corner[] {
  const kept: Corner[] = [];
  for (const corner of loop) {
    kept.push(corner);
    while (kept.length > 2 && isStraight(kept.at(-3)!, kept.at(-2)!, corner)) kept.splice(-2, 1);
    if (kept.length > 1 && isSame(kept.at(-2)!, corner)) kept.pop();
  }
  for (let changed = true; changed && kept.length > 2; ) {
    changed = true;
    if (isSame(kept.at(-1)!, kept[0]!) || isStraight(kept.at(-2)!, kept.at(-1)!, kept[0]!)) kept.pop();
    else if (isStraight(kept.at(-1)!, kept[0]!, kept[1]!)) kept.shift();
    else changed = false;
  }
  return kept.length > 2 ? kept : [];
}

function isSame(a: Corner, b: Corner): boolean {
  return a.x === b.x && a.y === b.y;
}

function isStraight(a: Corner, b: Corner, c: Corner): boolean {
  return (b.x - a.x) * (c.y - a.y) === (b.y - a.y) * (c.x - a.x);
}
