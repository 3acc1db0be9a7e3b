/** What would hold the house up and the hill back: a first look, never a design. */
import type { Point } from "../geometry/plane.js";

export type FoundationKind = "slab" | "raised" | "pier-and-grade-beam";

export interface Foundation {
  readonly kind: FoundationKind;
  /** "cannot-tell" and "specialist-first" overrule the kind in words. */
  readonly standing: "likely" | "cannot-tell" | "specialist-first";
  readonly runnerUp: FoundationKind;
  readonly rule: string;
  /** Of every rule that holds, the one that leads first. */
  readonly reasons: readonly string[];
  /** What speaks for the runner-up. */
  readonly runnerUpReasons: readonly string[];
  /** What a survey or a soils engineer would have to find for it to come out otherwise. */
  readonly wouldChange: readonly string[];
  readonly piers: number;
  readonly pierDepthFt: readonly [low: number, likely: number, high: number];
  readonly pierDiameterIn: number;
  readonly pierAt: readonly Point[];
  readonly gradeBeamFt: number;
  readonly slabFt2: number;
  readonly raisedFloorFt2: number;
  readonly concreteYd3: number;
  readonly concreteTrucks: number;
  readonly concreteByElement: readonly { readonly element: string; readonly yd3: number }[];
  readonly pump: boolean;
}

export interface LightWell {
  readonly at: Point;
  readonly depthFt: number;
  readonly ladder: boolean;
  readonly side: string;
  /** Least clear opening into the well, inches: wide, high. */
  readonly openingIn?: readonly [wide: number, high: number];
}

export interface Basement {
  readonly lightWells: number;
  readonly wells: readonly LightWell[];
  readonly bedroomsOnOpenWall: number;
  readonly ifBedroomMoves: string;
  readonly buriedWallFt: number;
  readonly daylightWallFt: number;
  readonly maxRetainedFt: number;
  readonly sides: readonly {
    readonly side: "uphill" | "downhill" | "left" | "right";
    readonly lengthFt: number;
    readonly buriedFt: number;
    readonly maxUnbalancedFt: number;
    readonly profileFt: readonly number[];
  }[];
  readonly wallFaceFt2: number;
  readonly waterproofFt2: number;
  readonly underSlabFt2: number;
  readonly shoringFt2: number;
  readonly protection: string;
}

export interface SlopeSetback {
  readonly direction: "ascending" | "descending";
  readonly slopeHeightFt: number;
  readonly requiredFt: number;
  readonly availableFt: number;
  readonly met: boolean;
}

export interface Structure {
  readonly foundation: Foundation;
  readonly basement: Basement | null;
  readonly slopeSetbacks: readonly SlopeSetback[];
  readonly heightAboveGroundFt: number;
  readonly heightLimitFt: number;
  readonly heightOk: boolean;
  readonly allowedFloorAreaFt2: number | null;
  readonly coveragePct: number;
  readonly railingFt: number;
  readonly septic: { readonly fits: boolean; readonly areaFt2: number; readonly because: string } | null;
  readonly cautions: readonly string[];
}
