import type { SheetLine } from '../../engine/questions/steer/steer-terms.ts'
import type { LengthUnit } from '../../state/preferences.ts'
import { tapeText } from '../../words/lengths.ts'
import { signedLevelText } from '../../words/levels.ts'
import { delayText } from '../../words/times.ts'
import * as say from './steer-bass.messages.ts'

export const sheetColumns = [
  say.sheetBox(),
  say.sheetRight(),
  say.sheetBehind(),
  say.sheetFaces(),
  say.sheetDelay(),
  say.sheetPolarity(),
  say.sheetLevel(),
]

/** A setting sheet as a crew reads it: one row a box, lengths for a tape, delays to a tenth of a millisecond. */
export const sheetRows = (sheet: readonly SheetLine[], units: LengthUnit): string[][] =>
  sheet.map(({ box, xM, zM, turned, delayS, polarity, levelDb }) => [
    String(box),
    tapeText(xM, units),
    tapeText(-zM, units),
    say.facing({ rear: turned }),
    delayText(delayS),
    say.polarityAs({ inverted: polarity < 0 }),
    signedLevelText(levelDb, 1),
  ])

/** The same as plain text in columns, for a message or a sheet of paper. */
export function sheetText(
  sheet: readonly SheetLine[],
  { title, place, link }: { title: string; place: string; link: string },
  units: LengthUnit,
): string {
  const table = [sheetColumns, ...sheetRows(sheet, units)]
  const widths = sheetColumns.map((_, column) => Math.max(...table.map((row) => row[column]?.length ?? 0)))
  const lines = table.map((row) =>
    row
      .map((cell, column) => cell.padEnd(widths[column] ?? 0))
      .join('  ')
      .trimEnd(),
  )
  return [
    title,
    say.stands({ place }),
    ...lines,
    say.paperPositions(),
    say.paperCaution(),
    say.sheetLink({ link }),
  ].join('\n')
}
