// Who sounds on this page: one at a time. Small, because every figure that can be heard loads it; the player itself is fetched
// with the first press.
import type { AuditionPlace, AuditionSignal, PlaceResponses } from '../../sound/audition-types.ts'

/** Something that sounds: a figure through the player, an ear test, a test tone. */
export type Sounding = {
  /** The figure that it belongs to, if it stands in one. */
  readonly figure: Element | null | undefined
  /** What of it is heard, in a few words: 'A', 'test tone'. */
  readonly part: string
  /** The reader wants silence: fades out, and what rings may ring. */
  stop(): void
  /** Something else is to be heard: fades out at once; as `stop` unless given. */
  cut?(): void
  /** Highest sample that leaves now, re digital full scale. */
  peak(): number
}

/** A figure of which two places can be heard, as it stands now. */
export type HeardFigure = {
  readonly figure: Element | null | undefined
  readonly labels: Record<AuditionPlace, string>
  /** Where `here` is, if the label does not say it all. */
  readonly hereIs: string
  /** Whether it is bass alone, which says no word and is weak. */
  readonly bassAlone: boolean
  readonly frontLevelDbA: number | undefined
  readonly responsesKey: string
  readonly responses: (sampleRateHz: number) => Promise<PlaceResponses | undefined>
  signal: AuditionSignal
  level: 'true' | 'matched'
}

/** The sound of a page. */
class PageSound {
  /** What sounds; nothing else does. */
  now: Sounding | undefined = $state.raw()
  /** The figure's sound that was asked for last; it stays named when it has fallen silent. */
  last: Sounding | undefined = $state.raw()
  /** The figure that is heard through the player, or is about to be. */
  heard: { figure: HeardFigure; where: AuditionPlace; playing: boolean } | undefined = $state.raw()
  /** Whether the bar is at the foot of the window, where messages go. */
  barShown = $state(false)
  /** Fetches the bar and puts it there; see `bar-at-hand.ts`. */
  fetchBar: (() => Promise<unknown>) | undefined
  #bar: Promise<unknown> | undefined

  /** Whatever sounded falls silent; what takes the page may begin. */
  take(sounding: Sounding): void {
    if (this.now !== sounding) {
      const before = this.now
      this.now = sounding
      if (sounding.figure) this.last = sounding
      if (before) silence(before)
    }
    window.addEventListener('keydown', onKey)
    // Without its bar the sound can still be stopped where it was begun, and by Esc.
    this.#bar ??= this.fetchBar?.().catch(() => {
      this.#bar = undefined
    })
    // What has fallen silent meanwhile is told there.
    void this.#bar?.then(() => {
      if (this.#bar) this.barShown = true
    })
  }
  /** What sounded has ended by itself or was stopped where it was begun. */
  release(sounding: Sounding): void {
    if (this.now === sounding) this.now = undefined
  }
  /** Silence. */
  stop(): void {
    this.now?.stop()
    this.now = undefined
  }
  /** A figure goes away; its sound goes with it. */
  leave(figure: HeardFigure): void {
    if (this.heard?.figure !== figure) return
    if (this.heard.playing) this.stop()
    this.heard = undefined
  }
}

const silence = (sounding: Sounding): void => (sounding.cut ? sounding.cut() : sounding.stop())

/** Esc is silence, unless it closes something that is open. */
function onKey(event: KeyboardEvent): void {
  if (event.key !== 'Escape' || event.defaultPrevented || !pageSound.now) return
  if (document.querySelector('dialog[open], :popover-open')) return
  event.preventDefault()
  pageSound.stop()
}

export const pageSound = new PageSound()
