import type { Band } from '../bands/octave-bands.ts'
import { requireInRange } from '../numeric-range.ts'
import { numberRows } from './number-table.ts'
import { recordingBands } from './recording-bands.ts'
import { RecordingError } from './recording-problem.ts'

/** How a microphone departs from a flat one: frequencies, Hz, rising, and its level there, dB. */
export type MicrophoneResponse = { frequenciesHz: number[]; levelsDb: number[] }

/** Widest departure that is believed, dB. */
const mostDb = 60

/**
 * Reads a microphone's file: plain text, a frequency in Hz and a level in dB a row, in any order; further columns (phase) do not count,
 * nor do lines that begin with *, # or ;, nor a first line without numbers.
 *
 * @param text  the whole file
 * @returns  at least two frequencies
 * @throws RecordingError  as numberRows; table-columns for a row of one cell; table-frequency outside 0.1 Hz to 1 MHz; table-level
 *         beyond ±60 dB or none at all; table-twice for a frequency that has come before; too-few-rows for one row
 */
export function readMicrophoneFile(text: string): MicrophoneResponse {
  const rows = numberRows(text, '*#;').map(({ line, cells }) => {
    const [frequencyHz, levelDb] = cells
    if (cells.length < 2) {
      throw new RecordingError(
        { kind: 'table-columns', line, found: cells.length, allowed: 3 },
        `Line ${line} has one column; allowed is a frequency in Hz and a level in dB.`,
      )
    }
    if (typeof frequencyHz !== 'number' || frequencyHz < 0.1 || frequencyHz > 1e6) {
      throw new RecordingError(
        { kind: 'table-frequency', line, frequencyHz: frequencyHz ?? 0 },
        `Line ${line} has the frequency ${frequencyHz ?? 'nothing'}; allowed is 0.1 to 1 000 000 Hz.`,
      )
    }
    if (typeof levelDb !== 'number' || Math.abs(levelDb) > mostDb) {
      throw new RecordingError(
        { kind: 'table-level', line, levelDb: levelDb ?? 0 },
        `Line ${line} has the level ${levelDb ?? 'nothing'}; allowed is −${mostDb} to ${mostDb} dB.`,
      )
    }
    return { line, frequencyHz, levelDb }
  })
  if (rows.length < 2) {
    throw new RecordingError(
      { kind: 'too-few-rows', found: rows.length, needed: 2 },
      'The file has one row; allowed is two or more.',
    )
  }
  rows.sort((a, b) => a.frequencyHz - b.frequencyHz)
  for (const [i, { line, frequencyHz }] of rows.entries()) {
    if (rows[i + 1]?.frequencyHz === frequencyHz) {
      throw new RecordingError(
        { kind: 'table-twice', line: rows[i + 1]?.line ?? line, frequencyHz },
        `${frequencyHz} Hz stands there twice; allowed is each frequency once.`,
      )
    }
  }
  return { frequenciesHz: rows.map((row) => row.frequencyHz), levelsDb: rows.map((row) => row.levelDb) }
}

/**
 * Level of a microphone at a frequency, to be taken off what it measured: straight between its frequencies on a logarithmic
 * scale, and held at the ends.
 *
 * @param frequencyHz  above 0 to 1 000 000 Hz
 * @returns  the level, dB, and whether the file reaches there
 * @throws RangeError  if the frequency is outside its range
 */
export function microphoneLevel(
  { frequenciesHz, levelsDb }: MicrophoneResponse,
  frequencyHz: number,
): { levelDb: number; isInFile: boolean } {
  requireInRange('frequencyHz', frequencyHz, { above: 0, max: 1e6, unit: 'Hz' })
  requireInRange('frequenciesHz.length', frequenciesHz.length, { min: 1 })
  const above = frequenciesHz.findIndex((each) => each >= frequencyHz)
  if (above < 0) return { levelDb: levelsDb.at(-1) as number, isInFile: false }
  if (above === 0) return { levelDb: levelsDb[0] as number, isInFile: frequenciesHz[0] === frequencyHz }
  const lowerHz = frequenciesHz[above - 1] as number
  const upperHz = frequenciesHz[above] as number
  const share = Math.log(frequencyHz / lowerHz) / Math.log(upperHz / lowerHz)
  const lowerDb = levelsDb[above - 1] as number
  return { levelDb: lowerDb + share * ((levelsDb[above] as number) - lowerDb), isInFile: true }
}

/** In so many places of a band, evenly spread over the logarithm of frequency, a file is read. */
const placesInBand = 16

/** Whether a file reaches the middle of a band: its exact or its printed frequency. */
const reaches = ({ frequenciesHz }: MicrophoneResponse, { centreHz, nominalHz = centreHz }: MicrophoneBand): boolean =>
  (frequenciesHz[0] as number) <= Math.max(centreHz, nominalHz) &&
  (frequenciesHz.at(-1) as number) >= Math.min(centreHz, nominalHz)

type MicrophoneBand = Pick<Band, 'lowerHz' | 'centreHz' | 'upperHz'> & Partial<Pick<Band, 'nominalHz'>>

/**
 * Level of a microphone in a band, to be taken off what it measured there:  10 lg of the mean of 10^(L/10) over the logarithm of
 * frequency, which is what the microphone does to pink noise.
 *
 * @returns  dB; null where the file does not reach the middle of the band: nothing is taken off there. Where it reaches the middle and
 *           not an edge, its end is held up to the edge.
 */
export function microphoneBandLevel(response: MicrophoneResponse, band: MicrophoneBand): number | null {
  if (!reaches(response, band)) return null
  const { lowerHz, upperHz } = band
  let power = 0
  for (let place = 0; place < placesInBand; place++) {
    const frequencyHz = lowerHz * (upperHz / lowerHz) ** ((place + 0.5) / placesInBand)
    power += 10 ** (microphoneLevel(response, frequencyHz).levelDb / 10)
  }
  return 10 * Math.log10(power / placesInBand)
}

/** The third octaves of a recording that a microphone's file does not reach, nominal Hz. */
export const microphoneUnreachedHz = (response: MicrophoneResponse): number[] =>
  recordingBands.filter((band) => !reaches(response, band)).map(({ nominalHz }) => nominalHz)
