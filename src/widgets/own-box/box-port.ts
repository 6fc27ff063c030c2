import { type PortPipe, portPipe, type RearPort } from '../../acoustics/index.ts'
import { airOf } from '../../engine/scene/air.ts'
import { toGrain } from '../../words/sizes.ts'

/** A round port in the back as the form has it; its place is seen from the front, right and up from the middle. */
export type BoxPort = Required<RearPort>

type BoxSize = { widthM: number; heightM: number; depthM: number }

/** Allowed numbers of a port, and the steps of their fields. */
export const portRanges = {
  diameterM: { min: 0.02, max: 0.5, step: 0.01 },
  tuningHz: { min: 20, max: 200, step: 1 },
} as const

/** A port to begin with: 10 cm wide, or as wide as half of a small back, tuned as tops are (common practice, no source). */
export function usualPort({ widthM, heightM }: BoxSize): BoxPort {
  const { min } = portRanges.diameterM
  // What is typed may be no number yet.
  const room = Math.min(widthM, heightM) / 2 || min
  return { diameterM: Math.max(min, Math.min(0.1, Math.floor(100 * room) / 100)), tuningHz: 60, xM: 0, yM: 0 }
}

/** The form's port of a way's. */
export const portOfWay = ({ diameterM, tuningHz, xM = 0, yM = 0 }: RearPort): BoxPort => ({
  diameterM: toGrain(diameterM),
  tuningHz: Number(tuningHz.toFixed(1)),
  xM: toGrain(xM),
  yM: toGrain(yM),
})

/** The pipe that such a port needs in such a box, in the usual air; undefined while a number is out of range. */
export function pipeOf({ port, ...box }: BoxSize & { port?: BoxPort }): PortPipe | undefined {
  if (!port) return undefined
  try {
    return portPipe(box, port, airOf())
  } catch {
    return undefined
  }
}

const portForm = /^[.\d]+_[.\d]+(_[-.\d]+){2}$/
const numberForm = /^-?(\d+\.?\d*|\.\d+)$/

/** A port as one word that an address holds as it stands: diameter_tuning_x_y; empty for none. */
export const portText = (port: BoxPort | undefined): string =>
  port ? [port.diameterM, port.tuningHz, port.xM, port.yM].join('_') : ''

/** The port of such a word; null for an empty one, undefined for any other text. */
export function portOfText(text: string): BoxPort | null | undefined {
  if (text === '') return null
  const parts = text.split('_')
  if (!portForm.test(text) || !parts.every((part) => numberForm.test(part))) return undefined
  const [diameterM = 0, tuningHz = 0, xM = 0, yM = 0] = parts.map(Number)
  return { diameterM, tuningHz, xM, yM }
}
