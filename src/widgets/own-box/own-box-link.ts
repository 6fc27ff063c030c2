import { ownBoxBands } from '../../engine/questions/own-box/own-box-terms.ts'
import { check, checked, numberField, textField, wordField } from '../../state/link-fields.ts'
import type { LengthUnit } from '../../state/preferences.ts'
import type { LinkSchema } from '../../state/share-link.ts'
import { type BoxDesign, type BoxDriver, boxRanges, isFineTuned, mostDrivers, plainDriver } from './box-design.ts'
import * as say from './box-form.messages.ts'
import { notPort } from './box-port.messages.ts'
import { portOfText, portText } from './box-port.ts'

/** Everything that a link to the own box keeps; the drivers in the short forms of driversText and fineText. */
export type OwnBoxLinkState = {
  widthM: number
  heightM: number
  depthM: number
  crossoverHz: number
  drivers: string
  fine: string
  port: string
  stands: 'at-ears' | 'floor'
  bandHz: number
  front: 'set-flat' | 'as-radiated'
  units: LengthUnit | 'own'
}

const driverForm = /^(c(_[-.\d]+){3}|h(_[-.\d]+){6})_(low|high)$/
const numberForm = /^-?(\d+\.?\d*|\.\d+)$/

/**
 * Drivers as one word that an address holds as it stands: kind, sizes, place, part, with _ between the numbers and *
 * between drivers: c_diameter_x_y_low, h_width_height_horizontal°_vertical°_x_y_high.
 */
export const driversText = (drivers: BoxDriver[]): string =>
  drivers
    .map(({ kind, diameterM, mouthWidthM, mouthHeightM, horizontalDeg, verticalDeg, xM, yM, plays }) =>
      kind === 'cone'
        ? ['c', diameterM, xM, yM, plays].join('_')
        : ['h', mouthWidthM, mouthHeightM, horizontalDeg, verticalDeg, xM, yM, plays].join('_'),
    )
    .join('*')

/** The drivers of such a word; undefined for any other text. */
export function driversOfText(text: string): BoxDriver[] | undefined {
  const drivers: BoxDriver[] = []
  for (const word of text.split('*')) {
    if (!driverForm.test(word)) return undefined
    const [letter, ...rest] = word.split('_')
    const plays = rest.pop() === 'high' ? ('high' as const) : ('low' as const)
    if (!rest.every((part) => numberForm.test(part))) return undefined
    const numbers = rest.map((part) => Number(part) + 0)
    if (letter === 'c') {
      const [diameterM = 0, xM = 0, yM = 0] = numbers
      drivers.push({ ...plainDriver, kind: 'cone', diameterM, xM, yM, plays })
    } else {
      const [mouthWidthM = 0, mouthHeightM = 0, horizontalDeg = 0, verticalDeg = 0, xM = 0, yM = 0] = numbers
      drivers.push({
        ...plainDriver,
        kind: 'horn',
        mouthWidthM,
        mouthHeightM,
        horizontalDeg,
        verticalDeg,
        xM,
        yM,
        plays,
      })
    }
  }
  return drivers
}

const fineForm = /^[-.\d]+_[.\d]+_[ni]$/

/**
 * What the fine settings of the drivers say, in the drivers' order with * between them: level dB, delay ms, n or i for normal
 * or inverted. Empty when there is nothing to say.
 */
export const fineText = (drivers: BoxDriver[]): string =>
  drivers.some(isFineTuned)
    ? drivers.map(({ levelDb, delayMs, inverted }) => [levelDb, delayMs, inverted ? 'i' : 'n'].join('_')).join('*')
    : ''

/** Fine settings of such a text, in the drivers' order; none for an empty one, undefined for any other text. */
export function fineOfText(text: string): Pick<BoxDriver, 'levelDb' | 'delayMs' | 'inverted'>[] | undefined {
  if (text === '') return []
  const words = text.split('*')
  if (!words.every((word) => fineForm.test(word))) return undefined
  const all = words.map((word) => {
    const [level = '', delay = '', polarity] = word.split('_')
    return {
      numbers: [level, delay],
      levelDb: Number(level) + 0,
      delayMs: Number(delay) + 0,
      inverted: polarity === 'i',
    }
  })
  if (!all.every(({ numbers }) => numbers.every((number) => numberForm.test(number)))) return undefined
  return all.map(({ levelDb, delayMs, inverted }) => ({ levelDb, delayMs, inverted }))
}

/** The link of the own box, version 2: version 1 had no fine settings. `start` is the box that an empty link gives. */
export function ownBoxLink(start: BoxDesign): LinkSchema<OwnBoxLinkState> {
  const { min, max } = boxRanges.outerM
  const outer = (key: 'widthM' | 'heightM' | 'depthM') => ({
    read: numberField(min, max, 'm'),
    default: start[key],
  })
  const crossover = boxRanges.crossoverHz
  return {
    name: 'box',
    version: 2,
    fields: {
      widthM: outer('widthM'),
      heightM: outer('heightM'),
      depthM: outer('depthM'),
      /** Crossover between low and high drivers, Hz; 0: all drivers play everything. */
      crossoverHz: {
        read: checked(
          numberField(0, crossover.max, 'Hz'),
          check(
            (value) => value === 0 || value >= crossover.min,
            say.notCrossover({ min: crossover.min, max: crossover.max }),
          ),
        ),
        default: start.twoWay ? start.crossoverHz : 0,
      },
      /** The drivers: kind, sizes, place and part, see driversText. */
      drivers: {
        read: checked(
          textField,
          check((text) => driversOfText(text) !== undefined, say.notDrivers()),
          check((text) => text.split('*').length <= mostDrivers, say.moreDrivers({ most: mostDrivers })),
        ),
        default: driversText(start.drivers),
      },
      /** Level, delay and polarity of the drivers, see fineText. */
      fine: {
        read: checked(
          textField,
          check((text) => fineOfText(text) !== undefined, say.notFine()),
          check((text) => text.split('*').length <= mostDrivers, say.moreDrivers({ most: mostDrivers })),
        ),
        default: fineText(start.drivers),
      },
      /** A port in the back, see portText; empty: none. */
      port: {
        read: checked(
          textField,
          check((text) => portOfText(text) !== undefined, notPort()),
        ),
        default: portText(start.port),
      },
      /** The band of the pattern round the box. */
      bandHz: {
        read: checked(
          numberField(31.5, 2000, 'Hz'),
          check((value) => ownBoxBands.some(({ nominalHz }) => nominalHz === value), say.notThirdOctave()),
        ),
        default: 1000,
      },
      /** How high it stands as a rig: its middle at the height of ears, or on the floor. */
      stands: {
        read: wordField(['at-ears', 'floor']),
        default: start.onFloor ? 'floor' : 'at-ears',
      },
      /** The front set flat, as makers do, or as the box radiates it. */
      front: {
        read: wordField(['set-flat', 'as-radiated']),
        default: 'set-flat',
      },
      /** Lengths in metres or feet; own: as the reader has set. */
      units: {
        read: wordField(['own', 'm', 'ft']),
        default: 'own',
      },
    },
  }
}
