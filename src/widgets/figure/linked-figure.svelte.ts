import { untrack } from 'svelte'
import { isFramed, opensWide } from '../../state/opened.ts'
import {
  type LengthUnit,
  onPreferencesChange,
  preferences,
  setPreferences,
  shownTheme,
  takeLinkedAir,
} from '../../state/preferences.ts'
import { type LinkSchema, readLink, writeLink } from '../../state/share-link.ts'
import { type SiteAir, usualAir, withAir } from '../../state/site-air.ts'

/** What a figure's link keeps: its own fields, and where it tells lengths the units if the sender had chosen feet. */
export type FigureState = Record<string, unknown> & { units?: LengthUnit | 'own' }

/** Makes a live figure in a component: it starts when the component does, and ends with it. */
export function alive<F extends { start(): () => void }>(make: () => F): F {
  const figure = untrack(make)
  $effect(() => untrack(() => figure.start()))
  return figure
}

/** The address follows the state, without filling the history; a short wait keeps a drag from flooding it. */
export function followAddress(figure: () => { readonly ready: boolean; address(): string }): void {
  $effect(() => {
    if (!figure().ready) return
    // Read now, so that every change is noticed; written later, beside what other figures have put there meanwhile.
    figure().address()
    const timer = setTimeout(() => {
      history.replaceState(history.state, '', figure().address())
      document.dispatchEvent(new Event('address-change'))
    }, 250)
    return () => clearTimeout(timer)
  })
}

/** What every figure and guess has: a state that its link restores, and the reader's units, air and theme. */
export class LinkedFigure<S extends FigureState> {
  #link: LinkSchema<S>
  readonly #base: S

  state = $state({} as S)
  /** Whether the link has been read: from then on the address follows the state. */
  ready = $state(false)
  dropped: string[] = $state.raw([])
  units: LengthUnit = $state('m')
  theme = $state('')
  /** Whether what can be set beyond the first view is open. */
  more = $state(false)
  /** The air of the site. */
  air: SiteAir = $state.raw(usualAir)

  /**
   * @param link  the schema of the share link
   * @param base  the state that an empty link gives on this page
   */
  constructor(link: LinkSchema<S>, base: S) {
    this.#link = link
    // Plain data: props arrive as proxies, which cannot be sent to a worker.
    this.#base = $state.snapshot(base) as S
    this.state = structuredClone(this.#base)
  }

  /** Its name in links. */
  get name(): string {
    return this.#link.name
  }
  /** What is set in the first view itself; a link that sets anything else opens the rest. */
  protected get atHand(): readonly (keyof S)[] {
    return []
  }

  /** Changes what a link may say, for choices that are known only in the browser. To be called before `start`. */
  protected relink(link: LinkSchema<S>): void {
    this.#link = link
  }

  /** Puts everything back to what an empty link gives. */
  reset(): void {
    Object.assign(this.state, structuredClone(this.#base))
  }

  /** Takes over what the link says, and follows the reader's preferences. Returns the function that ends it. */
  start(): () => void {
    const { state, dropped, set } = readLink(this.#link, new URLSearchParams(location.search), this.#base)
    // In a frame, whose height was measured with it folded, it opens by hand alone.
    this.more =
      !isFramed() && (opensWide(this.name) || set.some((name) => !this.atHand.includes(name) && name !== 'units'))
    Object.assign(this.state, structuredClone(state))
    this.dropped = [...dropped, ...takeLinkedAir()]
    if (state.units && state.units !== 'own') setPreferences({ units: state.units }, { keep: false })
    const follow = () => {
      const now = preferences()
      this.units = now.units
      if (JSON.stringify(airOf(now)) !== JSON.stringify(this.air)) this.air = airOf(now)
      this.theme = shownTheme()
    }
    follow()
    this.ready = true
    const systemTheme = matchMedia('(prefers-color-scheme: dark)')
    systemTheme.addEventListener('change', follow)
    const forget = onPreferencesChange(follow)
    return () => {
      forget()
      systemTheme.removeEventListener('change', follow)
      this.ready = false
    }
  }

  /** The address that restores this state, air and feet or metres included; other figures' parts of the address stay. */
  address(): string {
    const state = { ...($state.snapshot(this.state) as S) }
    if ('units' in state) state.units = this.units === 'ft' ? 'ft' : 'own'
    const params = withAir(new URLSearchParams(location.search), this.air)
    const query = writeLink(this.#link, state, params, this.#base).toString()
    return `${location.pathname}${query ? `?${query}` : ''}${location.hash}`
  }
}

const airOf = ({ temperatureC, humidityPct }: SiteAir): SiteAir => ({ temperatureC, humidityPct })
