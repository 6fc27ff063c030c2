import { contourLevelDb } from '../../acoustics/index.ts'
import { LiveFigure } from '../figure/live-figure.svelte.ts'
import { type MatchByEarState, matchByEarLink } from './match-by-ear-link.ts'
import {
  clearMatchedTones,
  keepMatchedTones,
  type MatchedTone,
  type MatchedTones,
  matchStartDb,
  readMatchedTones,
  referencePhonRange,
  testOrderHz,
} from './matched-tones.ts'

/** A matched tone with what the standard says for it. */
export type JudgedTone = MatchedTone & { standardDb: number }

/** The state of one listening test: the tone in hand, and what the reader has matched so far. */
export class MatchByEar extends LiveFigure<MatchByEarState> {
  tones: MatchedTone[] = $state.raw([])
  referencePhon = $state<number>(referencePhonRange.usual)
  /** Level of the tone in hand re the 1 kHz tone, dB. */
  differenceDb = $state<number>(matchStartDb)
  storeProblem = $state('')
  /** What "clear all" took away, until something new is kept. */
  cleared: MatchedTones | undefined = $state.raw()

  constructor(base: MatchByEarState) {
    super(matchByEarLink, base)
  }

  /** Results with the standard's difference at the reader's guess of the reference, from low to high. */
  judged: JudgedTone[] = $derived.by(() =>
    this.tones
      .map((tone) => ({ ...tone, standardDb: standardDifferenceDb(this.referencePhon, tone.frequencyHz) }))
      .sort((a, b) => a.frequencyHz - b.frequencyHz),
  )
  current: JudgedTone | undefined = $derived.by(() =>
    this.judged.find(({ frequencyHz }) => frequencyHz === this.state.frequencyHz),
  )
  complete = $derived.by(() => this.tones.length === testOrderHz.length)

  /** Takes over what the link says and what this device has kept. Returns the function that ends it. */
  override start(): () => void {
    const stop = super.start()
    const { kept, problem } = readMatchedTones()
    this.tones = kept.tones
    this.referencePhon = kept.referencePhon
    this.storeProblem = problem
    this.choose(this.state.frequencyHz)
    return stop
  }

  /** Takes a tone in hand: where it was left, or too soft. */
  choose(frequencyHz: number): void {
    this.state.frequencyHz = frequencyHz
    this.differenceDb = this.current?.differenceDb ?? matchStartDb
  }

  /** Keeps the tone in hand as it is now. */
  keep(): void {
    const { frequencyHz } = this.state
    this.tones = [
      ...this.tones.filter((tone) => tone.frequencyHz !== frequencyHz),
      { frequencyHz, differenceDb: this.differenceDb },
    ]
    this.cleared = undefined
    this.#store()
  }

  /** Goes to the next tone that has not been matched, if there is one. Returns whether there was. */
  next(): boolean {
    const from = testOrderHz.indexOf(this.state.frequencyHz)
    const later = [...testOrderHz.slice(from + 1), ...testOrderHz.slice(0, from)]
    const free = later.find((frequencyHz) => !this.tones.some((tone) => tone.frequencyHz === frequencyHz))
    if (free === undefined) return false
    this.choose(free)
    return true
  }

  /** Drops the result of the tone in hand. */
  forget(): void {
    this.tones = this.tones.filter(({ frequencyHz }) => frequencyHz !== this.state.frequencyHz)
    this.differenceDb = matchStartDb
    this.#store()
  }

  guess(referencePhon: number): void {
    this.referencePhon = referencePhon
    if (this.tones.length > 0) this.#store()
  }

  clear(): void {
    this.cleared = { referencePhon: this.referencePhon, tones: this.tones }
    this.tones = []
    this.referencePhon = referencePhonRange.usual
    this.storeProblem = clearMatchedTones()
    this.choose(testOrderHz[0] ?? this.state.frequencyHz)
  }

  putBack(): void {
    if (!this.cleared) return
    this.tones = this.cleared.tones
    this.referencePhon = this.cleared.referencePhon
    this.cleared = undefined
    this.choose(this.state.frequencyHz)
    this.#store()
  }

  #store(): void {
    this.storeProblem = keepMatchedTones({ referencePhon: this.referencePhon, tones: this.tones })
  }
}

/** How much more level than 1 kHz the standard gives a tone, dB. */
export const standardDifferenceDb = (referencePhon: number, frequencyHz: number): number =>
  contourLevelDb(referencePhon, frequencyHz) - referencePhon
