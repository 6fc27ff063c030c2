import { tenthsText } from './levels.ts'
import * as say from './words.messages.ts'

/** A level difference for a table, to a tenth: '1.6 dB down', '0.7 dB up'. */
export function tenthsDownWords(differenceDb: number): string {
  const decibels = tenthsText(Math.abs(differenceDb))
  return toTenth(differenceDb) === 0 ? say.unchanged() : say.down({ decibels, up: differenceDb > 0 })
}

/** A level to a tenth: what is computed from such levels adds up for whoever reads them. */
export const toTenth = (levelDb: number): number => Number(levelDb.toFixed(1))
