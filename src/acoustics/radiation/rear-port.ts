import { type BoxSize, type Cabinet, checkCabinet } from './cabinet.ts'
import { requireTuning } from './port-flow.ts'

/**
 * A round hole in the rear face of a box, through which its cones breathe. x and y as on the front face, seen from the front:
 * right and up from the middle (default 0). `tuningHz` is that of box and port together in the usual air.
 */
export type RearPort = { diameterM: number; xM?: number; yM?: number; tuningHz: number }

/**
 * The same hole on the front face of the box, with the flow of one driver. The closed box is its own mirror image front to back, so
 * what a hole in the rear radiates is what this one does, mirrored: exactly, whatever model stands for the box. So a hole needs no
 * solver of its own.
 */
export const holeOnFront = (
  { widthM, heightM, depthM }: BoxSize,
  { diameterM, xM = 0, yM = 0 }: RearPort,
): Cabinet => ({ widthM, heightM, depthM, drivers: [{ kind: 'piston', radiusM: diameterM / 2, xM, yM }] })

/**
 * Checks a port and returns it unchanged.
 *
 * @param box   the box and the drivers that breathe through the port; one of them has to be a piston
 * @param port  wholly on the rear face; tuning 10 … 400 Hz
 * @param name  how error messages call the port
 * @throws RangeError naming the argument, its value and what is allowed
 */
export function checkRearPort(box: Cabinet, port: RearPort, name = 'port'): RearPort {
  requireTuning(port.tuningHz, `${name}.tuningHz`)
  checkCabinet(holeOnFront(box, port), name)
  if (!box.drivers.some(({ kind }) => kind === 'piston')) {
    throw new RangeError(`${name} stands where no cone plays; allowed is a port beside at least one piston`)
  }
  return port
}
