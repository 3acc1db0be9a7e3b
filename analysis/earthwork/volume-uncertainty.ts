/** How far a volume can be off because the ground heights are. Method: docs/methods/earthwork.md */

/** Share of the variance of a ground height that all shots of a survey have in common (bench mark, set-up, rod, season of grass): judgement. */
export const COMMON_SHARE = 0.5;

/**
 * One sigma of a cut or fill volume over an area: σ_V = A σ √(ρ + (1 − ρ) / n), with ρ the common share and n the
 * shots that see the area (A ÷ spacing², at least 1). The common part does not average out, so for many shots
 * σ_V → A σ √ρ: more shots of the same survey do not help below that.
 */
export function volumeSigmaFt3(areaFt2: number, groundSigmaFt: number, spacingFt: number): number {
  const shots = Math.max(1, areaFt2 / (spacingFt * spacingFt));
  return areaFt2 * groundSigmaFt * Math.sqrt(COMMON_SHARE + (1 - COMMON_SHARE) / shots);
}
