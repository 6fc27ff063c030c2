import type { BoxPictureQuestion } from '../../engine/questions/box/box-and-wave.ts'
import {
  type BoxPattern,
  boxBandLevels,
  boxEstimateFromHz,
  boxLevels,
  shadowBegin,
  solvedPictureToHzM,
} from '../../engine/questions/box/box-pattern.ts'
import { airOf } from '../../engine/scene/air.ts'
import type { Picture } from '../../engine/scene/picture.ts'
import type { Responses } from '../../engine/scene/responses.ts'
import type { Asked } from '../figure/asked.svelte.ts'
import type { Hearable } from '../figure/hearable.svelte.ts'
import { LiveFigure } from '../figure/live-figure.svelte.ts'
import * as say from './box-and-wave.messages.ts'
import { type BoxAndWaveState, boxAndWaveLink, waveFrequenciesHz, widthRangeM } from './box-and-wave-link.ts'
import { pictureCells, planHalfM } from './box-picture-size.ts'

/** What a picture of the waves is of; the model is added when it is asked. */
type PictureAsked = Omit<BoxPictureQuestion, 'model'>

/** Whether the picture of a box and a frequency is of the box itself; above that it stays the ball. */
export const isSolved = ({ widthM, frequencyHz }: { widthM: number; frequencyHz: number }): boolean =>
  widthM * frequencyHz <= solvedPictureToHzM

/** The state of one box and its wave, and what the engine has answered for it so far. */
export class BoxAndWave extends LiveFigure<BoxAndWaveState> {
  readonly pattern: BoxPattern
  /** The waves round the box: of the ball at once, then of the box itself where that is worth the wait. */
  readonly picture: Asked<PictureAsked, Picture>
  /** What front and rear sound like. */
  readonly sound: Hearable<object, Responses>

  protected override get atHand() {
    return ['frequencyHz', 'signal', 'level'] as const
  }

  constructor(pattern: BoxPattern, base: BoxAndWaveState) {
    super(boxAndWaveLink, base)
    // Plain data: props arrive as proxies, which cannot be sent to a worker.
    this.pattern = $state.snapshot(pattern) as BoxPattern
    this.picture = this.works(
      (): PictureAsked => ({
        shape: this.pattern.shape,
        widthM: this.state.widthM,
        frequencyHz: this.state.frequencyHz,
        halfM: planHalfM,
        cells: pictureCells,
      }),
      async ({ ask, show }, question) => {
        const solved = isSolved(question) ? ask('boxPicture', { ...question, model: 'solved' }, 'solved') : undefined
        const ball = await ask('boxPicture', { ...question, model: 'ball' })
        if (!solved) return ball
        if (ball) show(ball)
        return await solved
      },
      { what: say.picture(), still: true },
    )
    this.sound = this.hears('boxResponses', () => ({
      pattern: this.pattern,
      widthM: this.state.widthM,
      bandHz: this.bandHz,
    }))
  }

  speedOfSoundMps = $derived.by(() => airOf(this.air).speedOfSoundMps)
  wavelengthM = $derived.by(() => this.speedOfSoundMps / this.state.frequencyHz)
  depthM = $derived.by(() => this.pattern.shape.depthPerWidth * this.state.widthM)
  heightM = $derived.by(() => this.pattern.shape.heightPerWidth * this.state.widthM)
  coneRadiusM = $derived.by(() => this.pattern.shape.coneRadiusPerWidth * this.state.widthM)
  estimateFromHz = $derived.by(() => boxEstimateFromHz(this.pattern, this.state.widthM, this.air))
  shadow = $derived.by(() => shadowBegin(this.pattern, this.state.widthM, this.air))
  /** By third octaves, as they are played. */
  levels = $derived.by(() => this.bandLevels(this.state.frequencyHz))
  spectrum = $derived.by(() => waveFrequenciesHz.map((nominalHz) => this.bandLevels(nominalHz)))

  /** What is heard: the third octave at the frequency, or everything. */
  bandHz = $derived.by(() => (this.state.sound === 'band' ? this.state.frequencyHz : undefined))

  bandLevels(nominalHz: number) {
    return boxBandLevels(this.pattern, this.state.widthM, nominalHz, this.air)
  }

  levelsAt(frequencyHz: number) {
    return boxLevels(this.pattern, this.state.widthM, frequencyHz, this.air)
  }

  /** Sets the third octave whose wave is nearest to a length, m. */
  setWavelength(wavelengthM: number): void {
    const wantedHz = this.speedOfSoundMps / Math.max(1e-3, wavelengthM)
    const miss = (frequencyHz: number) => Math.abs(Math.log(frequencyHz / wantedHz))
    this.state.frequencyHz = waveFrequenciesHz.reduce((best, next) => (miss(next) < miss(best) ? next : best), 31.5)
  }

  /** Goes up (positive) or down by third octaves. */
  stepFrequency(steps: number): void {
    const index = waveFrequenciesHz.indexOf(this.state.frequencyHz as (typeof waveFrequenciesHz)[number]) + steps
    this.state.frequencyHz =
      waveFrequenciesHz[Math.max(0, Math.min(waveFrequenciesHz.length - 1, index))] ?? this.state.frequencyHz
  }

  setWidth(widthM: number): void {
    this.state.widthM = Math.min(widthRangeM.max, Math.max(widthRangeM.min, Number(widthM.toFixed(2))))
  }
}
