import {
  octaveDecays,
  openWav,
  RecordingError,
  type SweepPlaces,
  type SweepTake,
  sharedPlaces,
  sweepTake,
  sweptLevels,
  usualSweep,
  type WavLayout,
  wavPieces,
} from '../../../acoustics/index.ts'
import { byteSource } from './byte-source.ts'
import type { Refused } from './compare-terms.ts'
import { refusing } from './refusing.ts'
import type { SweptFinding, SweptPlace } from './sweep-terms.ts'

/** A recording is transformed in one go: so many samples a channel are a hundred megabytes or two of numbers, 131 s at 48 kHz. */
export const mostSweepFrames = 6 * 2 ** 20
/** Samples of fewer bits than this bring noise of their own that is worth a word. */
const fineBits = 16

/** A recording of sweeps: how it is stored and how long it is. */
export type SweptPlan = { kind: 'recording'; layout: WavLayout; durationS: number }

/**
 * Looks into a file for a recording of sweeps.
 *
 * @returns  refused for what is no WAV recording, cannot be read, is shorter than one sweep or longer than mostSweepFrames
 */
export async function sweptPlan({ file }: { file: Blob }): Promise<SweptPlan | Refused> {
  return refusing(async () => {
    const layout = await openWav(byteSource(file))
    const { frameCount, sampleRateHz } = layout
    const durationS = frameCount / sampleRateHz
    // Not even the first sweep can be whole in it.
    const neededS = usualSweep.durationS + 0.5
    if (durationS < neededS) {
      throw new RecordingError(
        { kind: 'too-short', durationS, neededS },
        `The recording is ${durationS} s long; allowed is ${neededS} s or more.`,
      )
    }
    if (frameCount > mostSweepFrames) {
      const mostS = mostSweepFrames / sampleRateHz
      throw new RecordingError(
        { kind: 'too-long', durationS, mostS },
        `The recording is ${durationS} s long; allowed is ${mostS} s or less.`,
      )
    }
    return { kind: 'recording', layout, durationS }
  })
}

/** One channel as an impulse response, and where its sweeps lie for the other channel of the same recorder. */
export type SweptResponse = {
  kind: 'response'
  response: Float64Array
  noise: Float64Array | null
  sampleRateHz: number
  durationS: number
  findings: SweptFinding[]
  places: SweepPlaces | null
}

/**
 * Recovers the impulse response of one channel.
 *
 * @param question.channel  from 0; `of` how many of the file are looked at
 * @param question.places   where the other channel of the same recorder has its sweeps
 * @returns  refused if there is no sweep in it, a sample is no number, or the file cannot be read any more
 */
export async function sweptResponse(question: {
  file: Blob
  layout: WavLayout
  channel: number
  of: number
  places?: SweepPlaces | null
}): Promise<SweptResponse | Refused> {
  const { file, layout, channel, of, places } = question
  return refusing(async () => {
    const { sampleRateHz, frameCount } = layout
    const samples = await channelOf(file, layout, channel)
    const take = sweepTake({ samples, sampleRateHz }, usualSweep, { ...(places && { places }) })
    const { response, noise } = take
    if (!response) {
      throw new RecordingError({ kind: 'no-sweep', channel, of }, 'There is no sweep in it.')
    }
    return {
      kind: 'response',
      response,
      noise,
      sampleRateHz,
      durationS: frameCount / sampleRateHz,
      findings: [...fileFindings(layout), ...told(take)],
      places: sharedPlaces(take, usualSweep) ?? null,
    }
  })
}

async function channelOf(file: Blob, layout: WavLayout, channel: number): Promise<Float32Array> {
  const samples = new Float32Array(layout.frameCount)
  let at = 0
  for await (const [piece] of wavPieces(byteSource(file), layout, { channels: [channel] })) {
    if (!piece) continue
    samples.set(piece, at)
    at += piece.length
  }
  return samples
}

const told = ({ findings }: SweepTake) => findings.filter((finding) => finding.kind !== 'no-sweep')

function fileFindings({ kind, bytesPerSample, isCutShort }: WavLayout): SweptFinding[] {
  const bits = 8 * bytesPerSample
  return [
    ...(isCutShort ? [{ kind: 'file-cut-short' as const }] : []),
    ...(kind === 'pcm' && bits < fineBits ? [{ kind: 'coarse' as const, bits }] : []),
  ]
}

/**
 * What a response says of its place: levels with and without the hall, decay by octave, and what is to be known of it.
 *
 * @throws RangeError for a response that is silent
 */
export function sweptPlace({ response, noise, sampleRateHz, durationS, findings }: SweptResponse): SweptPlace {
  const { whole, box, validFromHz, arrivals } = sweptLevels({ response, noise, sampleRateHz })
  const { merged, tooClose, gapS } = arrivals
  return {
    sampleRateHz,
    durationS,
    whole,
    box,
    validFromHz,
    gapS,
    decays: octaveDecays(response, sampleRateHz).map(({ band, t20S }) => ({
      nominalHz: band.nominalHz,
      decayS: t20S,
    })),
    findings: [
      ...findings,
      ...(merged ? [{ kind: 'merged' as const, ...merged }] : []),
      ...(tooClose && gapS !== null ? [{ kind: 'too-close' as const, gapS }] : []),
    ],
  }
}
