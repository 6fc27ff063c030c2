import { type Air, requireAir } from '../medium/air.ts'
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
  const rings = Math.ceil(band + 4 * Math.cbrt(band)) + 6
  const { nodes, weights } = gaussLegendre(rings)
  let total = 0
  for (const [i, z] of nodes.entries()) {
    const across = Math.sqrt(1 - z * z)
    let ring = 0
    for (let m = 0; m < 2 * rings; m++) {
      const roundRad = (Math.PI * (m + 0.5)) / rings
      const point = {
        xM: centre.xM + farAwayM * across * Math.cos(roundRad),
        yM: centre.yM + farAwayM * across * Math.sin(roundRad),
        zM: centre.zM + farAwayM * z,
      }
      let re = 0
      let im = 0
      for (const { source, radiation, drive } of loud) {
        const pressure = radiation.pressureAt(toSourcePoint(source, point))
        re += pressure.re * drive.re - pressure.im * drive.im
        im += pressure.re * drive.im + pressure.im * drive.re
      }
      ring += re * re + im * im
    }
    total += ((weights[i] as number) * ring * Math.PI) / rings
  }
  return (total * farAwayM * farAwayM) / (2 * air.densityKgM3 * air.speedOfSoundMps)
}
