import { type OwnBoxBand, solvingOrderHz, wrapAnswer } from '../../engine/questions/own-box/own-box.ts'
import { createEngine, type Engine } from '../../engine/workers/engine.ts'
import { type LengthUnit, onPreferencesChange, preferences, setPreferences } from '../../state/preferences.ts'
import { onSavedRigsChange, readSavedRigs, type SavedRig } from '../../state/saved-rigs.ts'
import { readLink, writeLink } from '../../state/share-link.ts'
import {
  type BoxDesign,
  boxOfDesign,
  canonicalDesign,
  designOfCabinet,
  mostDrivers,
  plainDriver,
  usualCrossoverHz,
} from './box-design.ts'
import { checkDesign } from './check-design.ts'
import { driversOfText, driversText, fineOfText, fineText, type OwnBoxLinkState, ownBoxLink } from './own-box-link.ts'

/** A box to start from. */
export type StartBox = { key: string; label: string; design: BoxDesign }

/** A reader who types goes on typing: solving starts when the box has rested this long, ms. The first picture does not wait. */
const restMs = 250

/** Boxes whose solved bands are kept, so that going back costs nothing. */
const keptBoxes = 12

/** The reader's box: what the form says, the last box that was sound, and what has been computed for it. */
export class OwnBoxBench {
  readonly #link
  readonly #base: OwnBoxLinkState
  readonly #solved = new Map<string, OwnBoxBand[]>()
  #engine: Engine | undefined
  #shownKey: string

  /** The form, as typed; may be unsound. */
  draft = $state({} as BoxDesign)
  /** The last sound box: what every picture shows. */
  good = $state.raw({} as BoxDesign)
  bands: OwnBoxBand[] = $state.raw([])
  bandHz = $state(1000)
  front: OwnBoxLinkState['front'] = $state('set-flat')
  problem = $state('')
  dropped: string[] = $state.raw([])
  withoutWorkers = $state(false)
  units: LengthUnit = $state('m')
  saved: SavedRig[] = $state.raw([])
  savedProblems: string[] = $state.raw([])

  constructor(start: BoxDesign, bands: OwnBoxBand[]) {
    const design = canonicalDesign($state.snapshot(start) as BoxDesign)
    this.#link = ownBoxLink(design)
    this.#base = { ...linkOf(design), bandHz: 1000, front: 'set-flat', units: 'own' }
    this.draft = structuredClone(design)
    this.good = design
    this.bands = $state.snapshot(bands) as OwnBoxBand[]
    this.#shownKey = JSON.stringify(boxOfDesign(design))
    this.#solved.set(this.#shownKey, this.bands)
  }

  errors = $derived.by(() => checkDesign($state.snapshot(this.draft) as BoxDesign, this.units))
  sound = $derived.by(() => Object.keys(this.errors).length === 0)
  wrap = $derived.by(() => wrapAnswer(this.bands, this.good.widthM))
  band = $derived.by(() => this.bands.find(({ nominalHz }) => nominalHz === this.bandHz) as OwnBoxBand)
  complete = $derived.by(() => this.bands.every(({ model }) => model !== 'closed-form'))

  /** Takes over what the link says and starts answering. Returns the function that ends it. */
  start(): () => void {
    const { state, dropped } = readLink(this.#link, new URLSearchParams(location.search), this.#base)
    const { widthM, heightM, depthM, crossoverHz, drivers } = state
    const fine = fineOfText(state.fine) ?? []
    this.draft = {
      widthM,
      heightM,
      depthM,
      twoWay: crossoverHz > 0,
      crossoverHz: crossoverHz || usualCrossoverHz,
      drivers: (driversOfText(drivers) ?? [plainDriver]).map((driver, index) => ({ ...driver, ...fine[index] })),
    }
    this.bandHz = state.bandHz
    this.front = state.front
    this.dropped = dropped
    if (state.units !== 'own') setPreferences({ units: state.units }, { keep: false })
    const followUnits = () => {
      this.units = preferences().units
    }
    const followRigs = () => {
      const { rigs, problems } = readSavedRigs()
      this.saved = rigs
      this.savedProblems = problems
    }
    followUnits()
    followRigs()
    this.#engine = createEngine()
    const forgetUnits = onPreferencesChange(followUnits)
    const forgetRigs = onSavedRigsChange(followRigs)
    return () => {
      forgetUnits()
      forgetRigs()
      this.#engine?.dispose()
      this.#engine = undefined
    }
  }

  /** Takes the form over as the box to show, if it is sound and another one. */
  takeDraft(): void {
    if (!this.sound) return
    const design = canonicalDesign($state.snapshot(this.draft) as BoxDesign)
    if (JSON.stringify(design) !== JSON.stringify(this.good)) this.good = design
  }

  /** Puts another box into the form. */
  load(design: BoxDesign): void {
    this.draft = structuredClone($state.snapshot(design) as BoxDesign)
  }

  addDriver(): void {
    if (this.draft.drivers.length < mostDrivers) this.draft.drivers.push({ ...plainDriver })
  }

  removeDriver(index: number): void {
    if (this.draft.drivers.length > 1) this.draft.drivers.splice(index, 1)
  }

  /** The form's box for a saved rig, if the form can hold it. */
  designOf({ rig }: SavedRig): BoxDesign | undefined {
    const [cabinet, ...more] = rig.cabinets
    return cabinet && more.length === 0 ? designOfCabinet(cabinet) : undefined
  }

  /**
   * Computes the box: the closed form at once, then each band by boundary elements when the box has rested. Returns the
   * function that stops it, for when the box changes.
   */
  compute(design: BoxDesign): () => void {
    const box = boxOfDesign(design)
    const key = JSON.stringify(box)
    const engine = this.#engine
    if (!engine) return () => {}
    const known = this.#solved.get(key)
    if (known) {
      this.bands = known
      this.#shownKey = key
      this.problem = ''
      return () => {}
    }
    let current = true
    const first = this.#attempt(async () => {
      const answer = await engine.ask('first', 'ownBoxFirst', { box })
      if (!answer || !current) return
      this.bands = answer.bands
      this.#shownKey = key
    })
    const timer = setTimeout(async () => {
      await first
      if (!current || this.#shownKey !== key) return
      await this.#attempt(async () => {
        const questions = solvingOrderHz.map((nominalHz) => ({ box, nominalHz, solved: true }))
        const all = await engine.askEach('solve', 'ownBoxBand', questions, (band) => {
          if (current) this.bands = this.bands.map((known) => (known.nominalHz === band.nominalHz ? band : known))
        })
        if (all && current) this.#keep(key)
      })
    }, restMs)
    return () => {
      current = false
      clearTimeout(timer)
      engine.cancel('solve')
    }
  }

  #keep(key: string): void {
    if (this.#solved.size >= keptBoxes) this.#solved.clear()
    this.#solved.set(key, this.bands)
  }

  async #attempt(work: () => Promise<void>): Promise<void> {
    try {
      await work()
      this.problem = ''
    } catch (error) {
      this.problem = `This box could not be computed to the end; what was there stays. (${error instanceof Error ? error.message : error})`
    }
    this.withoutWorkers = this.#engine?.withoutWorkers ?? false
  }

  /** The address that restores the last sound box and what is shown of it. */
  address(): string {
    const units = this.units === 'ft' ? ('ft' as const) : ('own' as const)
    const state = { ...linkOf(this.good), bandHz: this.bandHz, front: this.front, units }
    const query = writeLink(this.#link, state, new URLSearchParams(location.search), this.#base).toString()
    return `${location.pathname}${query ? `?${query}` : ''}${location.hash}`
  }
}

const linkOf = ({ widthM, heightM, depthM, twoWay, crossoverHz, drivers }: BoxDesign) => ({
  widthM,
  heightM,
  depthM,
  crossoverHz: twoWay ? crossoverHz : 0,
  drivers: driversText(drivers),
  fine: fineText(drivers),
})
