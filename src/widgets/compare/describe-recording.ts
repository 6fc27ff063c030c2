import { enoughDb, recordingBands } from '../../acoustics/index.ts'
import type { Take } from '../../engine/questions/compare/compare-terms.ts'
import { bassHz, trebleHz } from '../../engine/scene/third-octaves.ts'
import type { InputLevel } from '../../sound/input-levels.ts'
import { type Processing, processings } from '../../sound/microphone.ts'
import { longestS } from '../../sound/sample-store.ts'
import { frequencyRangeText, frequencyText } from '../../words/frequencies.ts'
import { levelText } from '../../words/levels.ts'
import { listText, shortText } from '../../words/numbers.ts'
import { clockText } from '../../words/times.ts'
import { countedWords } from './describe-take.ts'
import type { PartName, PlaceName } from './kept-test.ts'
import * as say from './record-here.messages.ts'
import type { RecorderProblem } from './recorder.svelte.ts'
import type { RecordedFile } from './recordings.svelte.ts'

// A recording that is made here, in words.

/** How loud a microphone is. Without the sound a low level is as it should be. */
export function levelWords(step: PartName, place: PlaceName | 'one', { state, peakDb }: InputLevel): string {
  const isWanted = step === 'quiet' && (state === 'quiet' || state === 'good')
  return say.level({ place, state: isWanted ? 'asWanted' : state, peak: peakDb === null ? '' : levelText(peakDb) })
}

/** What the browser keeps on, and what it does not tell; nothing if all is off. */
export function processingWords(processing: Processing): string[] {
  const those = (state: 'on' | 'untold') =>
    listText(processings.filter((what) => processing[what] === state).map((what) => say.processing({ what })))
  const [on, untold] = [those('on'), those('untold')]
  return [...(on ? [say.processed({ what: on })] : []), ...(untold ? [say.untold({ what: untold })] : [])]
}

/** What an input's sample rate leaves out; '' if it holds every band. */
export function rateWords(sampleRateHz: number): string {
  const topHz = sampleRateHz / 2
  return recordingBands.every(({ upperHz }) => upperHz <= topHz)
    ? ''
    : say.rate({ rate: shortText(sampleRateHz, 0), top: frequencyText(topHz) })
}

/** What a recording that still goes on is worth, and whether that is enough. */
export function runningWords(take: Take): { isEnough: boolean; words: string } {
  const isEnough = take.channels.every(({ confidence }) => confidence.isEnough)
  return { isEnough, words: countedWords({ place: 'both', take }) }
}

/** When a recording is enough. */
export const enoughRule = (): string =>
  say.enoughRule({
    range: frequencyRangeText({ from: bassHz.from, to: trebleHz.to }),
    limit: levelText(enoughDb),
    longest: clockText(longestS),
  })

export const problemWords = ({ kind, reason }: RecorderProblem): string => say.problem({ kind, reason })

/** What a recording is called: by the time of day that it ended at. */
export const recordingName = (at: Date, isProcessed: boolean): string =>
  say.fileName({ time: at.toTimeString().slice(0, 8), isProcessed })

/** How a recording ended, if not by the reader. */
export const endWords = ({ ended, durationS }: RecordedFile): string =>
  ended === 'reader' ? '' : say.ended({ ended, time: clockText(durationS) })
