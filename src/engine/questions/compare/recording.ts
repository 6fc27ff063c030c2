import {
  type BlockLevels,
  LevelStream,
  openWav,
  RecordingError,
  type WavLayout,
  wavPieces,
  windowLength,
} from '../../../acoustics/index.ts'
import { byteSource } from './byte-source.ts'
import type { Refused } from './compare-terms.ts'
import { refusing } from './refusing.ts'

/** A stretch of a recording that is analysed in one go: its frames, to (excluded). */
export type RecordingStretch = { fromFrame: number; toFrame: number }

/** How a recording is stored, how long it is, and the stretches that it is analysed in. */
export type RecordingPlan = {
  kind: 'recording'
  layout: WavLayout
  durationS: number
  stretches: RecordingStretch[]
}

/** About so much is analysed in one go, s: between two of them the work can be stopped, and says how far it is. */
const stretchS = 20

/**
 * Looks into a file for a recording.
 *
 * A stretch begins half a window before the last block of the one before ends, so that blocks follow each other without a gap; what comes
 * after the last whole block belongs to the last stretch.
 *
 * @returns  the plan; refused for what is no WAV recording, cannot be read, or is shorter than five blocks (4 to 6 s)
 */
export async function recordingPlan({ file }: { file: Blob }): Promise<RecordingPlan | Refused> {
  return refusing(async () => {
    const layout = await openWav(byteSource(file))
    const { frameCount, sampleRateHz } = layout
    const hop = windowLength(sampleRateHz) / 2
    const blocks = Math.floor(frameCount / hop) - 1
    const durationS = frameCount / sampleRateHz
    const neededS = (hop * (fewestBlocks + 1)) / sampleRateHz
    if (blocks < fewestBlocks) {
      throw new RecordingError(
        { kind: 'too-short', durationS, neededS },
        `The recording is ${durationS} s long; allowed is ${neededS} s or more.`,
      )
    }
    const blocksAtOnce = Math.max(1, Math.round((stretchS * sampleRateHz) / hop))
    const stretches: RecordingStretch[] = []
    for (let block = 0; block < blocks; block += blocksAtOnce) {
      const isLast = block + blocksAtOnce >= blocks
      stretches.push({
        fromFrame: block * hop,
        toFrame: isLast ? frameCount : (block + blocksAtOnce + 1) * hop,
      })
    }
    return { kind: 'recording', layout, durationS, stretches }
  })
}

/** With fewer blocks there is no average with an error. */
const fewestBlocks = 5

/**
 * Levels of one stretch of a recording, read and analysed piece by piece.
 *
 * @param question.channels  one or two that are wanted, from 0
 * @returns  its blocks; refused if a sample is no number or the file cannot be read any more
 * @throws RangeError if a channel or a frame is outside the file
 */
export async function recordingPart(question: {
  file: Blob
  layout: WavLayout
  channels: number[]
  stretch: RecordingStretch
}): Promise<({ kind: 'levels' } & BlockLevels) | Refused> {
  const { file, layout, channels, stretch } = question
  return refusing(async () => {
    const stream = new LevelStream({ sampleRateHz: layout.sampleRateHz, channelCount: channels.length })
    for await (const piece of wavPieces(byteSource(file), layout, { ...stretch, channels })) stream.push(piece)
    return { kind: 'levels', ...stream.levels() }
  })
}
