import type { Point } from '../../../../src/acoustics/index.ts'
import { plainAdmittance } from './plain-wall.ts'

/** A box-shaped hall with one absorption coefficient a surface: [left, right], [floor, ceiling], [behind, opposite]. */
export type PlainHall = {
  widthM: number
  heightM: number
  lengthM: number
  alphas: readonly (readonly [number, number])[]
}

/**
 * The plain sum of images in the time domain, for comparison with the module's: every image of a point source, out to what
 * arrives within the response, at its own travel time with 1/r and for every reflection a factor (cos ϑ − β)/(cos ϑ + β) at its angle (Allen & Berkley,
 * J. Acoust. Soc. Am. 65 (1979); Kuttruff, Room Acoustics, section 2.5). Shares nothing with src: no resonances, no hand-over, no transform.
 *
 * An arrival between two samples is split between them, which takes sinc²(f/f_s) off its spectrum; splitCorrection gives it back.
 *
 * @returns samples of Σ factor/r · δ(t − r/c), 1/m
 */
export function plainImages(
  { widthM, heightM, lengthM, alphas }: PlainHall,
  source: Point,
  listener: Point,
  spec: { sampleRateHz: number; length: number; speedOfSoundMps: number; airLossPerM: number },
): Float64Array {
  const { sampleRateHz, length, speedOfSoundMps, airLossPerM } = spec
  const samples = new Float64Array(length + 1)
  const farthestM = ((length - 1) / sampleRateHz) * speedOfSoundMps
  const perM = sampleRateHz / speedOfSoundMps
  const along = (sideM: number, fromM: number, toM: number) => {
    const most = Math.ceil(farthestM / (2 * sideM)) + 1
    const images: { offM: number; low: number; high: number }[] = []
    for (let q = -most; q <= most; q++) {
      const rounds = Math.abs(q)
      images.push({ offM: 2 * q * sideM + toM - fromM, low: rounds, high: rounds })
      // Turned over: one more hit at the low wall for q ≤ 0, one fewer for q > 0.
      images.push({ offM: 2 * q * sideM - toM - fromM, low: q > 0 ? q - 1 : 1 - q, high: rounds })
    }
    return images.filter(({ offM }) => Math.abs(offM) <= farthestM)
  }
  const [across, up, down] = alphas.map((pair) => pair.map(plainAdmittance)) as [
    [number, number],
    [number, number],
    [number, number],
  ]
  /** How often an axis' two walls turn the sign, and ln of what they leave. */
  const met = ([low, high]: [number, number], image: { low: number; high: number }, cosine: number) => {
    const [l, h] = [(cosine - low) / (cosine + low), (cosine - high) / (cosine + high)]
    return {
      turns: (l < 0 ? image.low : 0) + (h < 0 ? image.high : 0),
      ln: (image.low ? image.low * Math.log(Math.abs(l)) : 0) + (image.high ? image.high * Math.log(Math.abs(h)) : 0),
    }
  }
  const xs = along(widthM, source.xM + widthM / 2, listener.xM + widthM / 2)
  const ys = along(heightM, source.yM, listener.yM)
  const zs = along(lengthM, source.zM, listener.zM)
  for (const x of xs) {
    for (const z of zs) {
      const flat = x.offM ** 2 + z.offM ** 2
      if (flat > farthestM ** 2) continue
      for (const y of ys) {
        const r = Math.sqrt(flat + y.offM * y.offM)
        if (r > farthestM) continue
        const one = met(across, x, Math.abs(x.offM) / r)
        const two = met(up, y, Math.abs(y.offM) / r)
        const three = met(down, z, Math.abs(z.offM) / r)
        const sign = (one.turns + two.turns + three.turns) % 2 === 0 ? 1 : -1
        const weight = (sign * Math.exp(one.ln + two.ln + three.ln - airLossPerM * r)) / r
        const at = r * perM
        const whole = Math.floor(at)
        samples[whole] = (samples[whole] as number) + weight * (1 - at + whole)
        samples[whole + 1] = (samples[whole + 1] as number) + weight * (at - whole)
      }
    }
  }
  return samples.subarray(0, length)
}

/** What the splitting of arrivals between samples has taken, as a factor of the spectrum at a frequency. */
export function splitCorrection(frequencyHz: number, sampleRateHz: number): number {
  const x = (Math.PI * frequencyHz) / sampleRateHz
  return x === 0 ? 1 : (x / Math.sin(x)) ** 2
}
