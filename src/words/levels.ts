import { decimalText, shortText, wholeText } from './numbers.ts'
import * as say from './words.messages.ts'

/** A level: '−3 dB', '62 dB'. */
export const levelText = (levelDb: number): string => `${wholeText(levelDb)} dB`

/** A level with its sign: '+2 dB', '−1.5 dB', '0 dB'. */
export function signedLevelText(levelDb: number, digits = 0): string {
  const number = shortText(levelDb, digits)
  return `${number === '0' || levelDb < 0 ? '' : '+'}${number} dB`
}

/** A range of levels, whole: '1 to 3 dB', '2 dB'. */
export function levelRangeText({ least, most }: { least: number; most: number }): string {
  const [from, to] = [wholeText(least), wholeText(most)]
  return from === to ? levelText(least) : say.fromTo({ from, to, unit: 'dB' })
}

/** A level difference as people say it: '3 dB quieter', '1 dB louder', 'as loud'. */
export const quieterWords = (differenceDb: number): string =>
  told(differenceDb, say.asLoud(), (decibels, louder) => say.quieter({ decibels, louder }))

/** A level difference for a chart or a table: '3 dB down', '1 dB up'; the given words where it rounds to nothing. */
export const downWords = (differenceDb: number, same = say.unchanged()): string =>
  told(differenceDb, same, (decibels, up) => say.down({ decibels, up }))

/** A level against the front's: '8 dB under the front', '2 dB over the front'; the given words where it rounds to nothing. */
export const underWords = (differenceDb: number, same: string): string =>
  told(differenceDb, same, (decibels, over) => say.under({ decibels, over }))

/** A difference of what is needed: '18 dB more', '4 dB less', 'the same level'. */
export const moreWords = (differenceDb: number, same = say.sameLevel()): string =>
  told(differenceDb, same, (decibels, more) => say.more({ decibels, more }))

function told(differenceDb: number, same: string, words: (decibels: number, rises: boolean) => string): string {
  const rounded = Math.round(differenceDb)
  return rounded === 0 ? same : words(Math.abs(rounded), rounded > 0)
}

/** A level for a table, to a tenth, without its unit: '−3.2'. */
export const tenthsText = (levelDb: number): string => decimalText(levelDb, 1)
