import { type HarmonicRecurrence, harmonicRecurrence } from './harmonic-recurrence.ts'

/**
 * Orthonormal real spherical harmonics, and the standing waves j_n Y_nm with their slopes, for one place at a time.
 *
 *   Y_nm = N_nm P_n^m(cos θ) · { √2 cos mφ,  1,  √2 sin |m|φ }  for m > 0, m = 0, m < 0;  index n² + n + m
 *
 * θ from +z, φ from +x towards +y, P_n^m without the sign (−1)^m. The radial part is scaled,
 * w_n = j_n(kr) (2n + 1)!!/X^n with X = kR ≥ kr, so that it neither over- nor underflows:
 * w_{n−1} = (X/x) w_n − X² w_{n+1}/((2n + 1)(2n + 3)),  downward.
 *
 * Source: DLMF 14.30, 10.51.1; downward recurrence, DLMF 3.6.
 */
export class RegularWaves {
  readonly order: number
  /** w_n(kr) Y_nm. */
  readonly value: Float64Array
  /** Its slope along the given direction, 1/m. */
  readonly slope: Float64Array
  private readonly wavenumber: number
  private readonly X: number
  private readonly recurrence: HarmonicRecurrence
  private readonly w: Float64Array
  private readonly dw: Float64Array

  /**
   * @param order       N, whole number, 0 or more
   * @param wavenumber  k, rad/m, above 0
   * @param radiusM     R, not below any place's distance
   */
  constructor(order: number, wavenumber: number, radiusM: number) {
    this.order = order
    this.wavenumber = wavenumber
    this.X = wavenumber * radiusM
    this.value = new Float64Array((order + 1) ** 2)
    this.slope = new Float64Array((order + 1) ** 2)
    this.recurrence = harmonicRecurrence(order)
    this.w = new Float64Array(order + 2)
    this.dw = new Float64Array(order + 2)
  }

  /** Sets `value` and `slope` for the place (x, y, z) and the unit direction (a, b, c). */
  set(x: number, y: number, z: number, a: number, b: number, c: number): void {
    const { order, value, slope, wavenumber: k, w, dw } = this
    const r = Math.sqrt(x * x + y * y + z * z)
    const s = Math.sqrt(x * x + y * y)
    this.setRadial(k * r)
    const cosT = z / r
    const sinT = s / r
    const cosP = s > 0 ? x / s : 1
    const sinP = s > 0 ? y / s : 0
    // Direction along r, θ and φ
    const alongR = (a * x + b * y + c * z) / r
    const alongT = (a * cosP + b * sinP) * cosT - c * sinT
    const alongP = b * cosP - a * sinP
    let cosM = 1
    let sinM = 0
    const { up, back, link, start } = this.recurrence
    let first = 1 / Math.sqrt(4 * Math.PI)
    for (let m = 0; m <= order; m++) {
      // q = P_n^m / sin θ for m > 0 (finite on the axis), P_n for m = 0
      const factor = m > 0 ? sinT : 1
      // The slope of P_n (m = 0) vanishes on the axis.
      const turnFactor = m > 0 ? 1 : sinT > 1e-12 ? 1 / sinT : 0
      let before = 0
      let q = first
      for (let n = m; n <= order; n++) {
        const f = m * (order + 1) + n
        const radial = w[n] as number
        const turn = (n * cosT * q - (link[f] as number) * before) * turnFactor
        const slope0 = (dw[n] as number) * k * alongR * q * factor + (radial / r) * alongT * turn
        const at = n * n + n
        if (m === 0) {
          value[at] = radial * q
          slope[at] = slope0
        } else {
          const value0 = radial * q * factor
          const round = (radial / r) * alongP * m * q
          value[at + m] = value0 * cosM
          value[at - m] = value0 * sinM
          slope[at + m] = slope0 * cosM - round * sinM
          slope[at - m] = slope0 * sinM + round * cosM
        }
        const next = (up[f] as number) * (cosT * q - (back[f] as number) * before)
        before = q
        q = next
      }
      first *= (start[m] as number) * (m > 0 ? sinT : 1)
      const turned = cosM * cosP - sinM * sinP
      sinM = sinM * cosP + cosM * sinP
      cosM = turned
    }
  }

  private setRadial(x: number): void {
    const { order, X, w, dw } = this
    let above = 0
    let current = 1e-150
    for (let n = order + 20; n >= 0; n--) {
      if (n <= order + 1) w[n] = current
      const next = (X / x) * current - ((X * X) / ((2 * n + 1) * (2 * n + 3))) * above
      above = current
      current = next
    }
    const j0 = x < 1e-4 ? 1 - (x * x) / 6 : Math.sin(x) / x
    const j1 = x < 1e-2 ? x / 3 - (x * x * x) / 30 : (Math.sin(x) / x - Math.cos(x)) / x
    const scale = Math.abs(j0) > Math.abs(j1) ? j0 / (w[0] as number) : (j1 * 3) / X / (w[1] as number)
    for (let n = 0; n <= order + 1; n++) w[n] = (w[n] as number) * scale
    dw[0] = (-(w[1] as number) * X) / 3
    for (let n = 1; n <= order; n++) {
      dw[n] = ((2 * n + 1) / X) * (w[n - 1] as number) - ((n + 1) / x) * (w[n] as number)
    }
  }
}
