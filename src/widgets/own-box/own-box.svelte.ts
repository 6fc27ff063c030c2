import {
  type OwnBox,
  type OwnBoxBand,
  solvingOrderHz,
  type WrapAnswer,
  wrapAnswer,
} from '../../engine/questions/own-box/own-box.ts'
import type { InAir } from '../../engine/scene/air.ts'
import { readSavedRigs, type SavedRig } from '../../state/saved-rigs.ts'
import { onSavedRigsChange } from '../../state/saved-rigs-change.ts'
import type { Asked, Asking } from '../figure/asked.svelte.ts'
import { LiveFigure } from '../figure/live-figure.svelte.ts'
import {
  type BoxDesign,
  boxOfDesign,
  canonicalDesign,
  designOfCabinet,
  mostDrivers,
  plainDriver,
  usualCrossoverHz,
} from './box-design.ts'
import { portOfText, portText } from './box-port.ts'
import { checkBox } from './check-port.ts'
import { driversOfText, driversText, fineOfText, fineText, type OwnBoxLinkState, ownBoxLink } from './own-box-link.ts'

/** A box to start from. */
export type StartBox = { key: string; label: string; design: BoxDesign }

/** The box whose bands are asked for. */
export type OwnBoxAsked = InAir & { box: OwnBox }

/** A reader who types goes on typing: solving starts when the box has rested this long, s. The first picture does not wait. */
const restS = 0.25

/** Boxes whose solved bands are kept, so that going back costs nothing. */
const keptBoxes = 12

/** The reader's box: what the form says, the last box that was sound, and what has been computed for it. */
export class OwnBoxBench extends LiveFigure<OwnBoxLinkState> {
  /** The form, as typed; may be unsound. */
  draft = $state({} as BoxDesign)
  /** The last sound box: what is asked for, linked to and saved. */
  good = $state.raw({} as BoxDesign)
  saved: SavedRig[] = $state.raw([])
  savedProblems: string[] = $state.raw([])
  /** The bands of the last sound box: the closed form of all at first, then one after the other solved. */
  readonly answer: Asked<OwnBoxAsked, OwnBoxBand[]>

  constructor(start: BoxDesign, bands: OwnBoxBand[]) {
    const design = canonicalDesign($state.snapshot(start) as BoxDesign)
    super(ownBoxLink(design), { ...linkOf(design), bandHz: 1000, front: 'set-flat', units: 'own' })
    this.draft = structuredClone(design)
    this.good = design
    this.answer = this.works<OwnBoxAsked, OwnBoxBand[]>(() => ({ box: boxOfDesign(this.good) }), solveBands, {
      what: 'box',
      first: bands,
      keep: keptBoxes,
    })
  }

  errors = $derived.by(() => checkBox($state.snapshot(this.draft) as BoxDesign, this.units))
  sound = $derived.by(() => Object.keys(this.errors).length === 0)
  wrap: WrapAnswer = $derived.by(() => {
    const { box, air } = this.answer.question
    return wrapAnswer(this.answer.value, box.widthM, air)
  })
  band = $derived.by(() => this.answer.value.find(({ nominalHz }) => nominalHz === this.state.bandHz) as OwnBoxBand)
  solvedCount = $derived.by(() => this.answer.value.filter(({ model }) => model !== 'closed-form').length)
  complete = $derived.by(() => this.solvedCount === this.answer.value.length)

  /** Takes over what the link says: its box into the form, and as the box to show if it is sound. Returns the function that ends it. */
  override start(): () => void {
    const end = super.start()
    this.draft = designOfLink(this.state)
    this.#take(this.#drafted ?? this.good)
    $effect(() => {
      const design = this.#drafted
      if (design) this.#take(design)
    })
    const followRigs = () => {
      const { rigs, problems } = readSavedRigs()
      this.saved = rigs
      this.savedProblems = problems
    }
    followRigs()
    const forgetRigs = onSavedRigsChange(followRigs)
    return () => {
      forgetRigs()
      end()
    }
  }

  /** The box of the form, if it is sound. */
  #drafted = $derived.by(() => (this.sound ? canonicalDesign($state.snapshot(this.draft) as BoxDesign) : undefined))

  /** Makes a sound box the one to show; the link holds the same. */
  #take(design: BoxDesign): void {
    this.good = design
    Object.assign(this.state, linkOf(design))
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
}

/** The closed form at once, then each band by boundary elements when the box has rested. */
async function solveBands(
  { ask, askEach, show, rest }: Asking<OwnBoxBand[]>,
  question: OwnBoxAsked,
): Promise<OwnBoxBand[] | undefined> {
  const first = await ask('ownBoxFirst', question)
  if (!first) return undefined
  let { bands } = first
  show(bands)
  if (!(await rest(restS))) return undefined
  const questions = solvingOrderHz.map((nominalHz) => ({ ...question, nominalHz, solved: true }))
  const all = await askEach('ownBoxBand', questions, (band) => {
    bands = bands.map((known) => (known.nominalHz === band.nominalHz ? band : known))
    show(bands)
  })
  return all ? bands : undefined
}

const linkOf = ({ widthM, heightM, depthM, twoWay, crossoverHz, drivers, port }: BoxDesign) => ({
  widthM,
  heightM,
  depthM,
  crossoverHz: twoWay ? crossoverHz : 0,
  drivers: driversText(drivers),
  fine: fineText(drivers),
  port: portText(port),
})

function designOfLink(state: OwnBoxLinkState): BoxDesign {
  const { widthM, heightM, depthM, crossoverHz, drivers } = state
  const fine = fineOfText(state.fine) ?? []
  const port = portOfText(state.port)
  return {
    widthM,
    heightM,
    depthM,
    twoWay: crossoverHz > 0,
    crossoverHz: crossoverHz || usualCrossoverHz,
    drivers: (driversOfText(drivers) ?? [plainDriver]).map((driver, index) => ({ ...driver, ...fine[index] })),
    ...(port && { port }),
  }
}
