import {
  type BoxPattern,
  boxAWeightedDb,
  boxEstimateFromHz,
  boxLevels,
  shadowBegin,
  solvedPictureToHzM,
} from '../../engine/box-pattern.ts'
import { createEngine, type Engine } from '../../engine/engine.ts'
import type { Picture } from '../../engine/walk.ts'
import {
  type LengthUnit,
  onPreferencesChange,
  preferences,
  setPreferences,
  shownTheme,
} from '../../state/preferences.ts'
import { readLink, writeLink } from '../../state/share-link.ts'
import { type BoxAndWaveState, boxAndWaveLink, waveFrequenciesHz, widthRangeM } from './box-and-wave-link.ts'
import { pictureCells, planHalfM } from './box-picture-size.ts'

/** The state of one box and its wave, and what the engine has answered for it so far. */
export class BoxAndWave {
  readonly pattern: BoxPattern
  readonly #base: BoxAndWaveState
  #engine: Engine | undefined
  /** Counts the pictures asked for, so that an older one never covers a newer one, nor the ball the box. */
  #round = 0
  #solvedRound = 0

  state = $state({} as BoxAndWaveState)
  picture: Picture | undefined = $state.raw()
  busy = $state(false)
  withoutWorkers = $state(false)
  problem = $state('')
  dropped: string[] = $state.raw([])
  units: LengthUnit = $state('m')
  theme = $state('')

  constructor(pattern: BoxPattern, base: BoxAndWaveState) {
    // Plain data: props arrive as proxies, which cannot be sent to a worker.
    this.pattern = $state.snapshot(pattern) as BoxPattern
    this.#base = base
    this.state = { ...base }
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
  aWeightedDb = $derived.by(() => boxAWeightedDb(this.pattern, this.state.widthM, this.bandHz))

  levelsAt(frequencyHz: number) {
    return boxLevels(this.pattern, this.state.widthM, frequencyHz)
  }

  /** Takes over what the link says and starts answering. Returns the function that ends it. */
  start(): () => void {
    const { state, dropped } = readLink(boxAndWaveLink, new URLSearchParams(location.search), this.#base)
    Object.assign(this.state, state)
    this.dropped = dropped
    if (state.units !== 'own') setPreferences({ units: state.units }, { keep: false })
    const follow = () => {
      this.units = preferences().units
      this.theme = shownTheme()
    }
    follow()
    this.#engine = createEngine()
    const systemTheme = matchMedia('(prefers-color-scheme: dark)')
    systemTheme.addEventListener('change', follow)
    const forget = onPreferencesChange(follow)
    return () => {
      forget()
      systemTheme.removeEventListener('change', follow)
      this.#engine?.dispose()
      this.#engine = undefined
    }
  }

  /** Asks for the waves: of the ball at once, then of the box itself where that is worth the wait. The last picture stays until then. */
  async askPicture(widthM: number, frequencyHz: number): Promise<void> {
    if (!this.#engine) return
    const question = { shape: this.pattern.shape, widthM, frequencyHz, halfM: planHalfM, cells: pictureCells }
    const round = ++this.#round
    const show = async (channel: string, model: 'ball' | 'solved') => {
      const picture = await this.#engine?.ask(channel, 'boxPicture', { ...question, model })
      if (picture && round === this.#round && !(model === 'ball' && this.#solvedRound === round)) this.picture = picture
      if (picture && model === 'solved') this.#solvedRound = round
    }
    try {
      this.busy = this.pictureIsSolved
      await Promise.all([show('picture', 'ball'), ...(this.pictureIsSolved ? [show('solved picture', 'solved')] : [])])
      this.problem = ''
    } catch (error) {
      this.problem = `The picture could not be computed; the last one stays. (${error instanceof Error ? error.message : error})`
    }
    if (round === this.#round) this.busy = false
    this.withoutWorkers = this.#engine?.withoutWorkers ?? false
  }

  /** Asks for the impulse responses that the sound is made with. */
  async askResponses(widthM: number, bandHz: number | undefined, sampleRateHz: number) {
    return this.#engine?.ask('responses', 'boxResponses', { pattern: this.pattern, widthM, bandHz, sampleRateHz })
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

  /** The address that restores this state, feet or metres included. */
  address(): string {
    const state = { ...$state.snapshot(this.state), units: this.units === 'ft' ? ('ft' as const) : ('own' as const) }
    const query = writeLink(boxAndWaveLink, state, new URLSearchParams(location.search), this.#base).toString()
    return `${location.pathname}${query ? `?${query}` : ''}${location.hash}`
  }
}
