import type { RecordingProblem } from '../../../acoustics/index.ts'
import * as say from './refused.messages.ts'

/** Number with at most one decimal, as the sentence of a problem needs it. */
const plainNumber = (value: number): string => String(Number(value.toFixed(1)))

/**
 * What is wrong with a file, and what to do, in a sentence or two.
 *
 * @param secondsText, frequencyText  how the page writes a time in s and a frequency in Hz; plain unless given
 */
export function refusedWords(
  problem: RecordingProblem,
  secondsText: (seconds: number) => string = (seconds) => `${plainNumber(seconds)} s`,
  frequencyText: (frequencyHz: number) => string = (frequencyHz) => `${plainNumber(frequencyHz / 1000)} kHz`,
): string {
  switch (problem.kind) {
    case 'empty':
      return say.empty()
    case 'unreadable':
      return say.unreadable()
    case 'no-wav': {
      const { looksLike } = problem
      return say.noWav({ looksLike: looksLike === 'big-endian' ? 'bigEndian' : looksLike })
    }
    case 'cut-short':
      return say.cutShort()
    case 'no-format':
      return say.noFormat()
    case 'no-samples':
      return say.noSamples()
    case 'compressed':
      return say.compressed({ format: problem.format })
    case 'sample-size':
      return say.sampleSize({ bits: problem.bits, isFloat: problem.float })
    case 'channel-count':
      return say.channelCount({ channelCount: problem.channelCount })
    case 'sample-rate':
      return say.sampleRate({ sampleRate: frequencyText(problem.sampleRateHz) })
    case 'contradiction':
      return say.contradiction({ bytesPerFrame: problem.bytesPerFrame, expected: problem.expected })
    case 'no-number':
      return say.noNumber({ time: secondsText(problem.timeS) })
    case 'too-short':
      return say.tooShort({ duration: secondsText(problem.durationS), needed: secondsText(Math.ceil(problem.neededS)) })
    case 'too-large':
      return say.tooLarge()
    case 'too-long':
      return say.tooLong({ duration: secondsText(problem.durationS), most: secondsText(Math.floor(problem.mostS)) })
    case 'no-sweep':
      return say.noSweep({ channel: problem.of === 1 ? 'only' : problem.channel === 0 ? 'first' : 'second' })
    default:
      return tableWords(problem)
  }
}

type TableProblem = Extract<RecordingProblem, { kind: `table-${string}` | 'too-few-rows' }>

function tableWords(problem: TableProblem): string {
  switch (problem.kind) {
    case 'table-line':
      return say.tableLine({ line: problem.line, text: problem.text })
    case 'table-columns':
      return say.tableColumns({ line: problem.line, found: problem.found })
    case 'table-empty':
      return say.tableEmpty()
    case 'table-frequency':
      return say.tableFrequency({ line: problem.line, frequency: plainNumber(problem.frequencyHz) })
    case 'table-level':
      return say.tableLevel({ line: problem.line, level: plainNumber(problem.levelDb) })
    case 'table-twice':
      return say.tableTwice({ line: problem.line, frequency: plainNumber(problem.frequencyHz) })
    case 'table-no-band':
      return say.tableNoBand()
    case 'too-few-rows':
      return say.tooFewRows({ found: problem.found, needed: problem.needed })
  }
}
