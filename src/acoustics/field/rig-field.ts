import { type Complex, multiply } from '../complex.ts'
import { makeRoom } from '../make-room.ts'
import { type Air, requireAir } from '../medium/air.ts'
import { requireInRange } from '../numeric-range.ts'
import type { Point } from '../point.ts'
import type { Cabinet, CabinetModel } from '../radiation/cabinet.ts'
import type { Radiation } from '../radiation/radiation.ts'
import { frequencyRange } from '../radiation/radiation-input.ts'
import { sphereCabinet } from '../radiation/sphere-cabinet.ts'
import { cabinetAround, checkRig, outerSize, type Rig, type RigCabinet, toCabinetPoint, type Way } from './rig.ts'
import { voicedWay } from './voiced-way.ts'

/** What a rig sends to any place around it. */
export type RigField = {
  rig: Rig
  /**
   * Transfer function from the rig's input to the sound pressure at a place; magnitude 1 (0 dB) is the passband on
   * axis at 1 m, referred from far away. Below 1e-6 Hz it is 0: a steady push radiates nothing.
   * Throws RangeError inside a cabinet (naming it), for a place that is not finite, and for a frequency outside
   * 0 … 100 000 Hz. `weigh` multiplies what comes from each cabinet by a factor that hangs on where the middle of its front is.
   */
  transferAt(listener: Point, frequencyHz: number, weigh?: (frontCentre: Point) => Complex): Complex
  /** Whether a listener can be at a place: outside every cabinet (and, where there are walls, in front of them). */
  isOpen(point: Point): boolean
}

/** Frequencies whose solved radiations are kept: enough for a spectrum and for the knots of an impulse response. */
const keptFrequencies = 2048

type WayTerm = { cabinet: RigCabinet; radiation: Radiation; drive: Complex }

/**
 * The free field of a rig: every way of every cabinet, complex sum.
 *
 *   transfer = Σ X(f) · p_way(listener) / a_way
 *
 * X is the way's crossover response, p_way its pressure in its cabinet's coordinates, a_way its complex far-field
 * amplitude on the cabinet's own axis about the centre of the front face. Dividing by a_way voices each way flat on
 * axis, in level and in phase, as makers do; what remains is how other directions and places differ. So far away on
 * axis |transfer| × distance = |Σ X|.
 *
 * With a voicing place the division is by what each way sends there instead, times the place's distance D from the middle
 * of the rig's front: the rig is set flat and in step at that place, as a crew does, and transfer = (Σ X) e^{−jkD} / D there.
 *
 * Left out: floor, walls and hall; sound scattered by the other cabinets, stands and people; absorption by air.
 *
 * @param rig    see checkRig
 * @param air    the medium
 * @param model  how one cabinet radiates; the default is the equal-surface sphere
 * @param voicedAt  place outside the cabinets where the rig is set flat; without one, each cabinet is flat on its own axis
 * @throws RangeError for a rig or an Air out of range
 */
export function rigField(rig: Rig, air: Air, model: CabinetModel = sphereCabinet, voicedAt?: Point): RigField {
  checkRig(rig)
  requireAir(air)
  const parts = rig.cabinets.flatMap((cabinet) =>
    cabinet.ways.map((way): { cabinet: RigCabinet; way: Way; box: Cabinet } => ({
      cabinet,
      way,
      box: { ...outerSize(cabinet), drivers: way.drivers },
    })),
  )
  const kept = new Map<number, WayTerm[]>()

  const termsAt = (frequencyHz: number): WayTerm[] => {
    const known = kept.get(frequencyHz)
    if (known) return known
    const terms: WayTerm[] = []
    for (const part of parts) {
      const voiced = voicedWay(part, frequencyHz, air, model, voicedAt)
      if (voiced) terms.push({ cabinet: part.cabinet, ...voiced })
    }
    makeRoom(kept, keptFrequencies)
    kept.set(frequencyHz, terms)
    return terms
  }

  return {
    rig,
    isOpen: (point) => !cabinetAround(rig, point),
    transferAt(listener, frequencyHz, weigh) {
      requireInRange('frequencyHz', frequencyHz, { min: 0, max: 1e5, unit: 'Hz' })
      for (const axis of ['xM', 'yM', 'zM'] as const) {
        requireInRange(`listener.${axis}`, listener[axis], { min: -1e5, max: 1e5, unit: 'm' })
      }
      const around = cabinetAround(rig, listener)
      if (around) {
        const { xM, yM, zM } = listener
        throw new RangeError(
          `listener is (${xM}, ${yM}, ${zM}) m, inside the cabinet '${around.name}'; allowed is any point outside it`,
        )
      }
      if (frequencyHz < (frequencyRange.min ?? 0)) return { re: 0, im: 0 }
      let re = 0
      let im = 0
      for (const { cabinet, radiation, drive } of termsAt(frequencyHz)) {
        const unweighed = radiation.pressureAt(toCabinetPoint(cabinet, listener))
        const pressure = weigh ? multiply(unweighed, weigh(cabinet.frontCentre)) : unweighed
        re += pressure.re * drive.re - pressure.im * drive.im
        im += pressure.re * drive.im + pressure.im * drive.re
      }
      return { re, im }
    },
  }
}
