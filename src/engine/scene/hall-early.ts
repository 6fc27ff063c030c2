import { type AxisReflection, axesOf, axisFactor, axisReflections } from '../../acoustics/field/hall-axes.ts'
import { handedOver } from '../../acoustics/field/hand-over.ts'
import {
  absorptionDbPerM,
  amplitudeRatio,
  earlySound,
  fromPolar,
  impulseResponse,
  interpolatedTransfer,
  multiply,
  type PlanPoint,
  type Point,
  transferKnotsHz,
} from '../../acoustics/index.ts'
import { inverseRealDft } from '../../acoustics/signals/dft.ts'
import { highestCabinet } from './arrivals.ts'
import { heardJoinHz, imagesShare } from './hall-low.ts'
import type { HallRig } from './hall-rig.ts'
import { leadInS } from './responses.ts'
import { earHeightM } from './scene-terms.ts'

/** Length of the early part with its run-up, samples: at 48 kHz room for 50 ms of early images and what a box rings on. */
const earlyLength = 8192

/** What the band limit spreads to before the lead is let go here, not round to the end, samples. */
export const runUp = 2048

/** Share of half the sample rate from which the sound fades out: cut off sharply it would ring before it arrives. */
const fadeOutFrom = 0.83

/** Images fainter than this re the direct sound, were both sent out alike, are left out. */
const faintestImage = 1e-3

/** The fade-out below half the sample rate, 1 … 0. */
function fadeOut(frequencyHz: number, sampleRateHz: number): number {
  const x = (frequencyHz / (sampleRateHz / 2) - fadeOutFrom) / (1 - fadeOutFrom)
  return Math.cos((Math.PI / 2) * Math.max(0, Math.min(1, x))) ** 2
}

/** From the cabinet that plays highest to the listener's ears, m: what the direct sound of a response travels. */
export function directDistanceM({ free }: HallRig, { xM, zM }: PlanPoint): number {
  const from = highestCabinet(free.rig).frontCentre
  return Math.hypot(xM - from.xM, earHeightM - from.yM, zM - from.zM)
}

/** Widest step of the interpolation, Hz: the highest cabinet alone plays there, and its own delays are a few ms. */
const widestEarlyStepHz = 60

/** One early image: where the listener's mirror image is, in the rig's coordinates, and what it has met along each axis. */
type EarlyImage = {
  at: Point
  travelM: number
  lateM: number
  fade: number
  met: [AxisReflection, AxisReflection, AxisReflection]
}

/**
 * The direct sound and the early images as hallLevels has them; where all images are summed as well, no more than what the share of
 * those lacks. Begins `runUp` samples before the response.
 */
export function earlyResponse(rig: HallRig, place: PlanPoint, gain: number, sampleRateHz: number): Float64Array {
  const { air, free, hall } = rig
  const source = rig.toHall(highestCabinet(free.rig).frontCentre)
  const listener = rig.toHall({ ...place, yM: earHeightM })
  const directM = directDistanceM(rig, place)
  const joinHz = heardJoinHz(rig.levels)
  const axes = axesOf(hall, 1000)
  const withinM = directM + earlySound.toM
  const xs = axisReflections(axes[0], listener.xM, source.xM, withinM)
  const ys = axisReflections(axes[1], listener.yM, source.yM, withinM)
  const zs = axisReflections(axes[2], listener.zM, source.zM, withinM)
  const images: EarlyImage[] = []
  for (const x of xs) {
    for (const y of ys) {
      for (const z of zs) {
        const travelM = Math.hypot(x.offM, y.offM, z.offM)
        const fade = 1 - handedOver(earlySound, travelM - directM)
        if (fade <= 0) continue
        const at = {
          xM: source.xM + x.offM - rig.at.xM,
          yM: source.yM + y.offM - rig.at.yM,
          zM: source.zM + z.offM - rig.at.zM,
        }
        images.push({ at, travelM, lateM: Math.max(0, travelM - directM), fade, met: [x, y, z] })
      }
    }
  }
  // Below the images' share of all there is nothing; the two lines before serve the interpolation.
  const stepHz = sampleRateHz / earlyLength
  const first = Math.max(1, Math.floor(joinHz / Math.SQRT2 / stepHz))
  const last = earlyLength / 2
  const knotsHz = [
    ...transferKnotsHz({ fineStepHz: stepHz, widestStepHz: widestEarlyStepHz, toHz: sampleRateHz / 2 }),
  ].filter((frequencyHz) => frequencyHz >= (first - 2) * stepHz && frequencyHz > 0)
  const factors = knotsHz.map((frequencyHz) => ({
    axes: axesOf(hall, frequencyHz),
    airDbPerM: absorptionDbPerM(frequencyHz, air),
  }))
  const re = new Float64Array(earlyLength / 2 + 1)
  const im = new Float64Array(earlyLength / 2 + 1)
  for (const { at, met, travelM, lateM, fade } of images) {
    const reflected = factors.map(({ axes }) =>
      axes.reduce((product, axis, index) => product * axisFactor(axis, met[index] as AxisReflection, travelM), fade),
    )
    if (Math.max(...reflected.map(Math.abs)) * directM < faintestImage * travelM) continue
    let knot = 0
    const transfer = interpolatedTransfer((frequencyHz) => {
      const factor = reflected[knot] as number
      const { airDbPerM } = factors[knot++] as (typeof factors)[number]
      const aheadRad = (2 * Math.PI * frequencyHz * travelM) / air.speedOfSoundMps
      const size = gain * factor * amplitudeRatio(-airDbPerM * lateM)
      return multiply(free.transferAt(at, frequencyHz), fromPolar(size, aheadRad))
    }, knotsHz)
    const delayRad = 2 * Math.PI * stepHz * (leadInS + runUp / sampleRateHz + lateM / air.speedOfSoundMps)
    for (let k = first; k <= last; k++) {
      const value = transfer(k * stepHz)
      const c = Math.cos(k * delayRad)
      const s = -Math.sin(k * delayRad)
      re[k] = (re[k] as number) + value.re * c - value.im * s
      im[k] = (im[k] as number) + value.re * s + value.im * c
    }
  }
  for (let k = first; k <= last; k++) {
    const frequencyHz = k * stepHz
    const share = (1 - imagesShare(frequencyHz, joinHz)) * fadeOut(frequencyHz, sampleRateHz)
    re[k] = (re[k] as number) * share
    im[k] = (im[k] as number) * share
  }
  return inverseRealDft({ re, im }, earlyLength)
}

/** The same place without a hall. */
export function outdoorResponse(
  { air, free }: HallRig,
  place: PlanPoint,
  gain: number,
  sampleRateHz: number,
): Float32Array {
  const knotsHz = transferKnotsHz({ fineStepHz: sampleRateHz / earlyLength, widestStepHz: 24, toHz: sampleRateHz / 2 })
  const aheadM = Math.hypot(place.xM, place.zM)
  const early = interpolatedTransfer(
    (frequencyHz) =>
      multiply(
        free.transferAt({ ...place, yM: earHeightM }, frequencyHz),
        fromPolar(gain, (2 * Math.PI * frequencyHz * aheadM) / air.speedOfSoundMps),
      ),
    knotsHz,
  )
  return impulseResponse(
    (frequencyHz) =>
      multiply(early(frequencyHz), fromPolar(fadeOut(frequencyHz, sampleRateHz), -2 * Math.PI * frequencyHz * leadInS)),
    { sampleRateHz, length: earlyLength },
  )
}
