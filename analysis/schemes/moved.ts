/** What a sketched level of a layout moves, holds and digs. */
import { WALL_CLASSES_FT } from "./wall-rule.js";

/** What one level of a sketched layout amounts to. Volumes in ft³ between natural ground and the design surface. */
export interface Moved {
  cutFt3: number;
  fillFt3: number;
  disturbedFt2: number;
  fillFt2: number;
  /** Site wall face per height class, ft². Faces with rising ground above them stand apart. */
  readonly wallFaceFt2: Float64Array;
  readonly loadedWallFaceFt2: Float64Array;
  tallestWallFt: number;
  /** Rays at outside corners whose slope never ends on the lot although the sides beside it may be sloped. */
  lostCorners: number;
  /** Farthest a slope reaches from the graded edge. */
  cutReachFt: number;
  fillReachFt: number;
  /** Length of toe where fill on steeper ground needs a key, ft, and the fill area that needs benches beneath it. */
  keyFt: number;
  benchedFt2: number;
  /** Fill on ground steeper than fill may lie on, ft². */
  tooSteepFillFt2: number;
  /** Walls of the house itself against earth, measured from the floor they enclose. */
  houseWallFaceFt2: number;
  tallestHouseWallFt: number;
  buriedFt: number;
  /** Dug outside the walls for working space and temporary slopes, ft³; what must be braced instead, ft² of face. */
  digBesideFt3: number;
  shoreFt2: number;
}

export function nothingMoved(): Moved {
  return {
    cutFt3: 0,
    fillFt3: 0,
    disturbedFt2: 0,
    fillFt2: 0,
    wallFaceFt2: new Float64Array(WALL_CLASSES_FT.length + 1),
    loadedWallFaceFt2: new Float64Array(WALL_CLASSES_FT.length + 1),
    tallestWallFt: 0,
    lostCorners: 0,
    cutReachFt: 0,
    fillReachFt: 0,
    keyFt: 0,
    benchedFt2: 0,
    tooSteepFillFt2: 0,
    houseWallFaceFt2: 0,
    tallestHouseWallFt: 0,
    buriedFt: 0,
    digBesideFt3: 0,
    shoreFt2: 0,
  };
}

/** Makes ready for the next level; the sums over the tiles are set by whoever measures. */
export function clearHeld(m: Moved): void {
  m.wallFaceFt2.fill(0);
  m.loadedWallFaceFt2.fill(0);
  m.tallestWallFt = 0;
  m.lostCorners = 0;
  m.cutReachFt = 0;
  m.fillReachFt = 0;
  m.keyFt = 0;
  m.houseWallFaceFt2 = 0;
  m.tallestHouseWallFt = 0;
  m.buriedFt = 0;
  m.digBesideFt3 = 0;
  m.shoreFt2 = 0;
}
