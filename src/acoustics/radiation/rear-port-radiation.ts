import { add, type Complex, divide, fromPolar, multiply } from '../complex.ts'
import { type Air, makeAir } from '../medium/air.ts'
import { boundaryElementCeilingHz } from './boundary-element-ceiling.ts'
import { type BoxSize, type Cabinet, type CabinetModel, type Driver, driverAreaM2 } from './cabinet.ts'
import { portFlowRatio } from './port-flow.ts'
import type { Radiation } from './radiation.ts'
import { checkRearPort, holeOnFront, type RearPort } from './rear-port.ts'
import { summedRadiation } from './summed-radiation.ts'

/** Highest frequency up to which a port is counted in the usual air, Hz: as high as boxes are solved. The pipe inside it is left out. */
export const portCeilingHz = 2000

/**
 * Flow out of a port for what the drivers of a cabinet are given: Σ |gain| · area = 1 m³/s, as in every CabinetModel. Cones breathe
 * through it, horns do not. 0 above the frequency up to which a port is counted.
 *
 * @throws RangeError for a cabinet, a port or a frequency out of range
 * Source: portFlowRatio. The tuning moves with the speed of sound, as that of any resonator of air.
 */
export function rearPortFlow(cabinet: Cabinet, port: RearPort, frequencyHz: number, air: Air): Complex {
  checkRearPort(cabinet, port)
  const warmth = air.speedOfSoundMps / makeAir().speedOfSoundMps
  if (frequencyHz > Math.min(portCeilingHz * warmth, boundaryElementCeilingHz(cabinet, air))) return { re: 0, im: 0 }
  return multiply(coneFlow(cabinet.drivers, frequencyHz), portFlowRatio(frequencyHz, port.tuningHz * warmth))
}

/** Share of the cones in the flow of some drivers, with their signs and delays. */
function coneFlow(drivers: readonly Driver[], frequencyHz: number): Complex {
  let all = 0
  let cones: Complex = { re: 0, im: 0 }
  for (const driver of drivers) {
    const { kind, gain = 1, delayS = 0 } = driver
    const flow = gain * driverAreaM2(driver)
    all += Math.abs(flow)
    if (kind === 'piston') cones = add(cones, fromPolar(flow, -2 * Math.PI * frequencyHz * delayS))
  }
  return divide(cones, { re: all, im: 0 })
}

/**
 * A cabinet with a port in its rear face: drivers plus hole, each on the closed box, with the flow of rearPortFlow.
 *
 * Left out: that the pipe of the port rings, near c/2L and its multiples, and there lets out treble of the box's inside.
 *
 * @param model  how the closed box radiates; it stands for the hole as well
 * @returns      Radiation for drivers of 1 m³/s in all, the port not counted among them
 * @throws RangeError for a cabinet, a port or a frequency out of range
 * Source: superposition; mirror image of a symmetric body.
 */
export function withRearPort(
  model: CabinetModel,
  cabinet: Cabinet,
  port: RearPort,
  frequencyHz: number,
  air: Air,
): Radiation {
  const cones = model(cabinet, frequencyHz, air)
  const flow = rearPortFlow(cabinet, port, frequencyHz, air)
  if (flow.re === 0 && flow.im === 0) return cones
  return addRearPort(cones, model(holeOnFront(cabinet, port), frequencyHz, air), flow, cabinet, air)
}

/** As withRearPort, from what the cones and the hole on the front face radiate. */
export function addRearPort(cones: Radiation, hole: Radiation, flow: Complex, box: BoxSize, air: Air): Radiation {
  const parts = [
    { radiation: cones, weight: { re: 1, im: 0 } },
    { radiation: mirroredBehind(hole, box.depthM), weight: flow },
  ]
  return summedRadiation(parts, Math.hypot(box.widthM / 2, box.heightM / 2, box.depthM), air)
}

/** A radiation of a box, mirrored front to back in the middle of the box. */
function mirroredBehind(front: Radiation, depthM: number): Radiation {
  const reFront = (horizontalRad: number, verticalRad: number) => front.farFieldDb(Math.PI - horizontalRad, verticalRad)
  return {
    frequencyHz: front.frequencyHz,
    pressureAt: ({ xM, yM, zM }) => front.pressureAt({ xM, yM, zM: -depthM - zM }),
    get powerW() {
      return front.powerW
    },
    get directivityIndexDb() {
      return front.directivityIndexDb + reFront(0, 0)
    },
    farFieldDb: (horizontalRad, verticalRad) => reFront(horizontalRad, verticalRad) - reFront(0, 0),
  }
}
