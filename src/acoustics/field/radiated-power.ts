import { type Air, requireAir } from '../medium/air.ts'
import type { Point } from '../point.ts'
import type { Radiation } from '../radiation/radiation.ts'
import { gaussLegendre } from '../special/gauss-legendre.ts'
import { checkPlacedSource, type PlacedSource, toSourcePoint } from './placed-source.ts'
import { driveOf } from './pressure-from.ts'

/** Distance that stands for far away, m. */
const farAwayM = 1e4

/** Wavenumber times reach above which the parts' powers are added: by then what one does to the other is a ripple. */
const addedFrom = 10

/** Reach of a cabinet about its own origin that the rule allows for, m. */
const cabinetReachM = 0.7

/**
 * Power that several sources radiate together in free space, W. Sources close together in wavelengths load each other: two in step
 * radiate four times the power of one, a pair in opposition next to none.
 *
 *   W = ∮ |Σ p|² r² dΩ/(2ρc)
 *
 * over all directions while k times the reach of the group is below 10; above, the sum of the single powers.
 *
 * @param sources      any number; none radiates 0
 * @param frequencyHz  as far as the radiations go
 * @param air          the medium
 * @returns  W, time average, for sources per unit volume velocity or as they are driven
 * @throws RangeError  for a source or an Air out of range
 * Source: intensity of the far field p²/2ρc; Morse & Ingard, Theoretical Acoustics, section 7.1.
 */
export function radiatedPowerW(sources: PlacedSource[], frequencyHz: number, air: Air): number {
  requireAir(air)
  const parts = sources.map((source, index) => {
    checkPlacedSource(source, `sources[${index}]`)
    return { source, radiation: source.radiation(frequencyHz), drive: driveOf(source, frequencyHz) }
  })
  const loud = parts.filter(({ radiation, source }) => radiation.powerW > 0 && source.gain !== 0)
  const first = loud[0]
  if (!first) return 0
  const single = (part: (typeof loud)[number]) => part.radiation.powerW * part.source.gain ** 2
  if (loud.length === 1) return single(first)
  const centre = { xM: 0, yM: 0, zM: 0 }
  for (const { source } of loud) {
    centre.xM += source.position.xM / loud.length
    centre.yM += source.position.yM / loud.length
    centre.zM += source.position.zM / loud.length
  }
  const apartM = Math.max(
    ...loud.map(({ source: { position } }) =>
      Math.hypot(position.xM - centre.xM, position.yM - centre.yM, position.zM - centre.zM),
    ),
  )
  const band = ((2 * Math.PI * frequencyHz) / air.speedOfSoundMps) * (apartM + cabinetReachM)
  if (band > addedFrom) return loud.reduce((sum, part) => sum + single(part), 0)
  // In steps, so that a group that grows a little takes the same rule.
  const rings = 4 * Math.ceil((band + 4 * Math.cbrt(band) + 6) / 4)
  const { nodes, weights } = gaussLegendre(rings)
  const wavenumber = (2 * Math.PI * frequencyHz) / air.speedOfSoundMps
  const patterns = loud.map(({ source, radiation }) => farPattern(radiation, source.yawRad, rings))
  const offs = loud.map(({ source: { position } }) => ({
    xM: position.xM - centre.xM,
    yM: position.yM - centre.yM,
    zM: position.zM - centre.zM,
  }))
  let total = 0
  for (const [i, z] of nodes.entries()) {
    const across = Math.sqrt(1 - z * z)
    let ring = 0
    for (let m = 0; m < 2 * rings; m++) {
      const roundRad = (Math.PI * (m + 0.5)) / rings
      const [x, y] = [across * Math.cos(roundRad), across * Math.sin(roundRad)]
      let re = 0
      let im = 0
      for (const [s, { drive }] of loud.entries()) {
        const pattern = patterns[s] as FarPattern
        const at = 2 * rings * i + m
        const off = offs[s] as Point
        // Far away only the direction counts: what stands nearer by n·off is so much earlier.
        const aheadRad = wavenumber * (x * off.xM + y * off.yM + z * off.zM)
        const [cos, sin] = [Math.cos(aheadRad), Math.sin(aheadRad)]
        const [dRe, dIm] = [drive.re * cos - drive.im * sin, drive.re * sin + drive.im * cos]
        const [pRe, pIm] = [pattern.re[at] as number, pattern.im[at] as number]
        re += pRe * dRe - pIm * dIm
        im += pRe * dIm + pIm * dRe
      }
      ring += re * re + im * im
    }
    total += ((weights[i] as number) * ring * Math.PI) / rings
  }
  return (total * farAwayM * farAwayM) / (2 * air.densityKgM3 * air.speedOfSoundMps)
}

/** Pressure of a source far away in the directions of a rule, ring after ring. */
type FarPattern = { re: Float64Array; im: Float64Array }

const patterns = new WeakMap<Radiation, Map<string, FarPattern>>()

/** The far pattern of a turned radiation; kept, because it is the same wherever the source stands and whatever feeds it. */
function farPattern(radiation: Radiation, yawRad: number, rings: number): FarPattern {
  const known = patterns.get(radiation) ?? new Map<string, FarPattern>()
  patterns.set(radiation, known)
  const key = `${rings} ${yawRad}`
  const found = known.get(key)
  if (found) return found
  const made = { re: new Float64Array(2 * rings * rings), im: new Float64Array(2 * rings * rings) }
  const turned = { position: { xM: 0, yM: 0, zM: 0 }, yawRad }
  for (const [i, z] of gaussLegendre(rings).nodes.entries()) {
    const acrossM = farAwayM * Math.sqrt(1 - z * z)
    for (let m = 0; m < 2 * rings; m++) {
      const roundRad = (Math.PI * (m + 0.5)) / rings
      const point = { xM: acrossM * Math.cos(roundRad), yM: acrossM * Math.sin(roundRad), zM: farAwayM * z }
      const { re, im } = radiation.pressureAt(toSourcePoint(turned, point))
      made.re[2 * rings * i + m] = re
      made.im[2 * rings * i + m] = im
    }
  }
  known.set(key, made)
  return made
}
