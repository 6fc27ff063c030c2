import { type Complex, multiply, squaredMagnitude } from '../complex.ts'
import { type Air, requireAir } from '../medium/air.ts'
import type { Point } from '../point.ts'
import type { CabinetModel } from '../radiation/cabinet.ts'
import type { Radiation } from '../radiation/radiation.ts'
import { sphereCabinet } from '../radiation/sphere-cabinet.ts'
import type { PlacedSource } from './placed-source.ts'
import { checkRig, outerSize, type Rig } from './rig.ts'
import { voicedWay } from './voiced-way.ts'

/**
 * A rig in a room: one source for each way of each cabinet, voiced as rigField does, so that the sum of their pressures in the
 * free field is the rig's transfer function.
 *
 * @param rig       see checkRig
 * @param air       the medium
 * @param model     how one cabinet radiates; the default is the equal-surface sphere
 * @param placed    where the rig's origin (on the floor below the middle of its front) lies in the room, and its yaw
 * @param voicedAt  as in rigField, in the rig's own coordinates
 * @throws RangeError for a rig or an Air out of range; the radiation throws if a way is silent where it is voiced
 */
export function rigSources(
  rig: Rig,
  air: Air,
  model: CabinetModel = sphereCabinet,
  placed: { position: Point; yawRad: number } = { position: { xM: 0, yM: 0, zM: 0 }, yawRad: 0 },
  voicedAt?: Point,
): PlacedSource[] {
  checkRig(rig)
  requireAir(air)
  const cos = Math.cos(placed.yawRad)
  const sin = Math.sin(placed.yawRad)
  return rig.cabinets.flatMap((cabinet) =>
    cabinet.ways.map((way): PlacedSource => {
      const { xM, yM, zM } = cabinet.frontCentre
      const box = { ...outerSize(cabinet), drivers: way.drivers }
      return {
        radiation(frequencyHz) {
          const voiced = voicedWay({ cabinet, way, box }, frequencyHz, air, model, voicedAt)
          return voiced ? driven(voiced.radiation, voiced.drive) : silentRadiation(frequencyHz)
        },
        position: {
          xM: placed.position.xM + xM * cos + zM * sin,
          yM: placed.position.yM + yM,
          zM: placed.position.zM - xM * sin + zM * cos,
        },
        yawRad: placed.yawRad + (cabinet.yawRad ?? 0),
        gain: 1,
        delayS: 0,
        polarity: 1,
      }
    }),
  )
}

/** A radiation under a complex drive. */
function driven(radiation: Radiation, drive: Complex): Radiation {
  return {
    frequencyHz: radiation.frequencyHz,
    pressureAt: (point) => multiply(radiation.pressureAt(point), drive),
    get powerW() {
      return radiation.powerW * squaredMagnitude(drive)
    },
    get directivityIndexDb() {
      return radiation.directivityIndexDb
    },
    farFieldDb: (horizontalRad, verticalRad) => radiation.farFieldDb(horizontalRad, verticalRad),
  }
}

const noPressure = () => ({ re: 0, im: 0 })

/** Whether a way does not play at a frequency, so that nothing of it need be summed. */
export const isSilent = ({ pressureAt }: Radiation): boolean => pressureAt === noPressure

/** What a way radiates where it does not play. */
export const silentRadiation = (frequencyHz: number): Radiation => ({
  frequencyHz,
  pressureAt: noPressure,
  powerW: 0,
  directivityIndexDb: 0,
  farFieldDb: () => 0,
})
