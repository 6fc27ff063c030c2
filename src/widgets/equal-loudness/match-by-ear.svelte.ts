import { contourLevelDb } from '../../acoustics/index.ts'
import { LinkedFigure } from '../figure/linked-figure.svelte.ts'
import { type MatchByEarState, matchByEarLink } from './match-by-ear-link.ts'
import {
  changeMatchedTones,
  clearMatchedTones,
  type MatchedTone,
  type MatchedTones,
  matchStartDb,
  onMatchedTonesElsewhere,
  readMatchedTones,
  referencePhonRange,
  testOrderHz,
} from './matched-tones.ts'

/** A matched tone with what the standard says for it. */
export type JudgedTone = MatchedTone & { standardDb: number }

/** The state of one listening test: the tone in hand, and what the reader has matched so far. */
export class MatchByEar extends LinkedFigure<MatchByEarState> {
  tones: MatchedTone[] = $state.raw([])
  referencePhon = $state<number>(referencePhonRange.usual)
  /** Level of the tone in hand re the 1 kHz tone, dB. */
  differenceDb = $state<number>(matchStartDb)
  storeProblem = $state('')
  /** What "clear all" took away, until something new is kept. */
  cleared: MatchedTones | undefined = $state.raw()
  #changes = 0

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
    this.#show(kept)
    this.storeProblem = problem
    this.choose(this.state.frequencyHz)
    const forget = onMatchedTonesElsewhere(() => {
      // What this device would not keep lasts as long as the page.
      const { kept, problem } = readMatchedTones()
      if (!problem && !this.storeProblem) this.#show(kept)
    })
    return () => {
      forget()
      stop()
    }
  }

  /** Takes a tone in hand: where it was left, or too soft. */
  choose(frequencyHz: number): void {
    this.state.frequencyHz = frequencyHz
    this.differenceDb = this.current?.differenceDb ?? matchStartDb
  }

  /** Keeps the tone in hand as it is now. */
  keep(): void {
    const tone = { frequencyHz: this.state.frequencyHz, differenceDb: this.differenceDb }
    this.cleared = undefined
    this.#change(({ tones, ...rest }) => ({ ...rest, tones: [...without(tones, tone.frequencyHz), tone] }))
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
    const { frequencyHz } = this.state
    this.differenceDb = matchStartDb
    this.#change(({ tones, ...rest }) => ({ ...rest, tones: without(tones, frequencyHz) }))
  }

  guess(referencePhon: number): void {
    if (this.tones.length > 0) this.#change((kept) => ({ ...kept, referencePhon }))
    else this.referencePhon = referencePhon
  }

  clear(): void {
    this.cleared = { referencePhon: this.referencePhon, tones: this.tones }
    this.#show({ referencePhon: referencePhonRange.usual, tones: [] })
    const change = ++this.#changes
    clearMatchedTones().then((problem) => {
      if (change === this.#changes) this.storeProblem = problem
    })
    this.choose(testOrderHz[0] ?? this.state.frequencyHz)
  }

  putBack(): void {
    const { cleared } = this
    if (!cleared) return
    this.cleared = undefined
    // A tone that another tab has matched since then is newer.
    this.#change(({ tones }) => ({
      referencePhon: cleared.referencePhon,
      tones: [...tones.reduce((rest, { frequencyHz }) => without(rest, frequencyHz), cleared.tones), ...tones],
    }))
    this.choose(this.state.frequencyHz)
  }

  /** Shows a change at once and keeps it; what other tabs have kept meanwhile comes in. */
  #change(change: (kept: MatchedTones) => MatchedTones): void {
    this.#show(change({ referencePhon: this.referencePhon, tones: this.tones }))
    const number = ++this.#changes
    changeMatchedTones(change).then(({ kept, problem }) => {
      if (number !== this.#changes) return
      this.storeProblem = problem
      if (!problem) this.#show(kept)
    })
  }

  #show({ referencePhon, tones }: MatchedTones): void {
    this.referencePhon = referencePhon
    this.tones = tones
  }
}

const without = (tones: MatchedTone[], toneHz: number): MatchedTone[] =>
  tones.filter(({ frequencyHz }) => frequencyHz !== toneHz)

/** How much more level than 1 kHz the standard gives a tone, dB. */
export const standardDifferenceDb = (referencePhon: number, frequencyHz: number): number =>
  contourLevelDb(referencePhon, frequencyHz) - referencePhon
