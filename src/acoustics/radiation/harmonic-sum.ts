import type { HarmonicRecurrence } from './boundary-elements/harmonic-recurrence.ts'

/** out = Σ g_n (re + j im)_nm Y_nm in the direction (x, y, z)/r, orders 0 … top. Nothing is allocated. */
export function sumHarmonics(
  { up, back, start }: HarmonicRecurrence,
  order: number,
  top: number,
  r: number,
  x: number,
  y: number,
  z: number,
  re: Float64Array,
  im: Float64Array,
  gRe: Float64Array,
  gIm: Float64Array,
  out: Float64Array,
): void {
  const cosT = r > 0 ? z / r : 1
  const s = Math.sqrt(x * x + y * y)
  const sinT = r > 0 ? s / r : 0
  const cosP = s > 0 ? x / s : 1
  const sinP = s > 0 ? y / s : 0
  let cosM = 1
  let sinM = 0
  let first = 1 / Math.sqrt(4 * Math.PI)
  let sumRe = 0
  let sumIm = 0
  for (let m = 0; m <= top; m++) {
    let before = 0
    let p = first
    for (let n = m; n <= top; n++) {
      const at = n * n + n
      let cRe = re[at + m] as number
      let cIm = im[at + m] as number
      if (m > 0) {
        cRe = cRe * cosM + (re[at - m] as number) * sinM
        cIm = cIm * cosM + (im[at - m] as number) * sinM
      }
      const hRe = gRe[n] as number
      const hIm = gIm[n] as number
      sumRe += p * (cRe * hRe - cIm * hIm)
      sumIm += p * (cRe * hIm + cIm * hRe)
      const f = m * (order + 1) + n
      const next = (up[f] as number) * (cosT * p - (back[f] as number) * before)
      before = p
      p = next
    }
    first *= (start[m] as number) * sinT
    const turned = cosM * cosP - sinM * sinP
    sinM = sinM * cosP + cosM * sinP
    cosM = turned
  }
  out[0] = sumRe
  out[1] = sumIm
}
