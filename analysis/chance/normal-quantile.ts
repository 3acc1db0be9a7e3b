/** The score below which a share of the standard normal distribution lies. */

/**
 * By rational approximation, good to about seven digits (Wichura 1988, Applied Statistics algorithm AS 241, PPND7).
 *
 * @param share between 0 and 1, neither end included
 */
export function normalQuantile(share: number): number {
  const off = share - 0.5;
  if (Math.abs(off) <= 0.425) {
    const r = 0.180625 - off * off;
    return (
      (off * (((59.10937472 * r + 159.29113202) * r + 50.434271938) * r + 3.3871327179)) /
      (((67.1875636 * r + 78.757757664) * r + 17.895169469) * r + 1)
    );
  }
  const depth = Math.sqrt(-Math.log(Math.min(share, 1 - share)));
  const near = depth - 1.6;
  const far = depth - 5;
  const size =
    depth <= 5
      ? (((0.17023821103 * near + 1.3067284816) * near + 2.75681539) * near + 1.4234372777) /
        ((0.12021132975 * near + 0.7370016425) * near + 1)
      : (((0.017337203997 * far + 0.42868294337) * far + 3.081226386) * far + 6.657905115) /
        ((0.012258202635 * far + 0.24197894225) * far + 1);
  return off < 0 ? -size : size;
}
