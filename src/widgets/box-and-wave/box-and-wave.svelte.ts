import {
  type BoxPattern,
  boxEstimateFromHz,
  boxLevels,
  shadowBegin,
  solvedPictureToHzM,
} from '../../engine/questions/box/box-pattern.ts'
import type { Picture } from '../../engine/questions/walk/walk.ts'
import { LiveFigure } from '../figure/live-figure.svelte.ts'
import { type BoxAndWaveState, boxAndWaveLink, waveFrequenciesHz, widthRangeM } from './box-and-wave-link.ts'
import { pictureCells, planHalfM } from './box-picture-size.ts'

/** The state of one box and its wave, and what the engine has answered for it so far. */
export class BoxAndWave extends LiveFigure<BoxAndWaveState> {
  readonly pattern: BoxPattern
  /** Counts the pictures asked for, so that an older one never covers a newer one, nor the ball the box. */
  #round = 0
  #solvedRound = 0

  picture: Picture | undefined = $state.raw()

  constructor(pattern: BoxPattern, base: BoxAndWaveState) {
    super(boxAndWaveLink, base)
    // Plain data: props arrive as proxies, which cannot be sent to a worker.
    this.pattern = $state.snapshot(pattern) as BoxPattern
  }

  wavelengthM = $derived.by(() => this.pattern.speedOfSoundMps / this.state.frequencyHz)
  depthM = $derived.by(() => this.pattern.shape.depthPerWidth * this.state.widthM)
  heightM = $derived.by(() => this.pattern.shape.heightPerWidth * this.state.widthM)
  coneRadiusM = $derived.by(() => this.pattern.shape.coneRadiusPerWidth * this.state.widthM)
  estimateFromHz = $derived.by(() => boxEstimateFromHz(this.pattern, this.state.widthM))
  /** Whether the picture of the waves is the box itself; above that it is the ball. */
  pictureIsSolved = $derived.by(() => this.state.widthM * this.state.frequencyHz <= solvedPictureToHzM)
  shadow = $derived.by(() => shadowBegin(this.pattern, this.state.widthM))
  levels = $derived.by(() => this.levelsAt(this.state.frequencyHz))
  spectrum = $derived.by(() => waveFrequenciesHz.map((frequencyHz) => this.levelsAt(frequencyHz)))

  /** What is heard: the third octave at the frequency, or everything. */
  bandHz = $derived.by(() => (this.state.sound === 'band' ? this.state.frequencyHz : undefined))

  levelsAt(frequencyHz: number) {
    return boxLevels(this.pattern, this.state.widthM, frequencyHz)
  }

  /** Asks for the waves: of the ball at once, then of the box itself where that is worth the wait. The last picture stays until then. */
  async askPicture(widthM: number, frequencyHz: number): Promise<void> {
    const question = { shape: this.pattern.shape, widthM, frequencyHz, halfM: planHalfM, cells: pictureCells }
    const round = ++this.#round
    await this.attempt('picture', async (engine) => {
      const show = async (channel: string, model: 'ball' | 'solved') => {
        const picture = await engine.ask(channel, 'boxPicture', { ...question, model })
        if (!picture) return
        if (round === this.#round && !(model === 'ball' && this.#solvedRound === round)) this.picture = picture
        if (model === 'solved') this.#solvedRound = round
      }
      this.busy = this.pictureIsSolved
      await Promise.all([show('picture', 'ball'), ...(this.pictureIsSolved ? [show('solved picture', 'solved')] : [])])
    })
    if (round === this.#round) this.busy = false
  }

  /** Asks for the impulse responses that the sound is made with. */
  async askResponses(widthM: number, bandHz: number | undefined, sampleRateHz: number) {
    return this.engine?.ask('responses', 'boxResponses', { pattern: this.pattern, widthM, bandHz, sampleRateHz })
  }

  /** Sets the third octave whose wave is nearest to a length, m. */
  setWavelength(wavelengthM: number): void {
    const wantedHz = this.pattern.speedOfSoundMps / Math.max(1e-3, wavelengthM)
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
