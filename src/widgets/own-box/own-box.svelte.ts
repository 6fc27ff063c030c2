import { untrack } from 'svelte'
import {
  type OwnBox,
  type OwnBoxBand,
  solvingOrderHz,
  type WrapAnswer,
  wrapAnswer,
} from '../../engine/questions/own-box/own-box-terms.ts'
import type { InAir } from '../../engine/scene/air.ts'
import { onListChange } from '../../state/kept-list-change.ts'
import { type SavedRig, savedRigs } from '../../state/saved-rigs.ts'
import { toGrain } from '../../words/sizes.ts'
import type { Asked, Asking } from '../figure/asked.svelte.ts'
import { LiveFigure } from '../figure/live-figure.svelte.ts'
import { RigSolving } from '../rig-choice/rig-solving.svelte.ts'
import {
  type BoxDesign,
  type BoxDriver,
  boxOfDesign,
  boxRanges,
  canonicalDesign,
  designOfCabinet,
  halfSizeM,
  mostDrivers,
  plainDriver,
  rigOfDesign,
  usualCrossoverHz,
} from './box-design.ts'
import { portOfText, portText } from './box-port.ts'
import { placeProblem } from './check-design.ts'
import { checkBox } from './check-port.ts'
import { movingDiameterM } from './nominal-size.ts'
import { driversOfText, driversText, fineOfText, fineText, type OwnBoxLinkState, ownBoxLink } from './own-box-link.ts'
import { placedDrivers } from './place-drivers.ts'

/** A box to start from. */
export type StartBox = { key: string; label: string; design: BoxDesign }

/** The box whose bands are asked for. */
export type OwnBoxAsked = InAir & { box: OwnBox }

/** A reader who types goes on typing: solving starts when the box has rested this long, ms. The first picture does not wait. */
const restMs = 250

/** The reader's box: what the form says, the last box that was sound, and what has been computed for it. */
export class OwnBoxBench extends LiveFigure<OwnBoxLinkState> {
  /** The form, as typed; may be unsound. */
  draft = $state({} as BoxDesign)
  /** The last sound box: what is asked for, linked to and saved. */
  good = $state.raw({} as BoxDesign)
  saved: SavedRig[] = $state.raw([])
  savedProblems: string[] = $state.raw([])
  /** The box is solved as the walk-round solves it, once for both, and kept on the device. */
  readonly solving = new RigSolving()
  readonly #start: OwnBoxAsked
  /** The bands of the last sound box: the closed form of all at first, then as far as it is solved. */
  readonly answer: Asked<OwnBoxAsked, OwnBoxBand[]>

  constructor(start: BoxDesign, bands: OwnBoxBand[]) {
    const design = canonicalDesign($state.snapshot(start) as BoxDesign)
    super(ownBoxLink(design), { ...linkOf(design), bandHz: 1000, front: 'set-flat', units: 'own' })
    this.draft = structuredClone(design)
    this.good = design
    this.#start = { box: boxOfDesign(design), air: this.air }
    const solvedAtBuild = $state.snapshot(bands) as OwnBoxBand[]
    this.answer = this.works<OwnBoxAsked, OwnBoxBand[]>(
      () => ({ box: boxOfDesign(this.good) }),
      async (asking, question) => {
        if (sameBox(question, this.#start)) return solvedAtBuild
        const known = await asking.ask('ownBoxKnown', question)
        if (!known || !this.engine?.withoutWorkers) return known?.bands
        return solveInPage(asking, question, known.bands)
      },
      { what: 'box', first: bands },
    )
  }

  /** With every line that is solved, what was asked before is asked again. */
  protected override revision(): unknown {
    return this.solving?.revision ?? 0
  }

  protected override get atHand() {
    return ['bandHz'] as const
  }

  /** The form's box with its drivers where they fit. */
  placed: BoxDesign = $derived.by(() => {
    const draft = $state.snapshot(this.draft) as BoxDesign
    // What is being typed may be no box yet: places are looked for on a face of an allowed size alone.
    const { min, max } = boxRanges.outerM
    const isFace = [draft.widthM, draft.heightM].every((sideM) => sideM >= min && sideM <= max)
    return isFace ? { ...draft, drivers: placedDrivers(draft).drivers } : draft
  })
  errors = $derived.by(() => checkBox(this.placed, this.units))
  sound = $derived.by(() => Object.keys(this.errors).length === 0)
  wrap: WrapAnswer = $derived.by(() => {
    const { box, air } = this.answer.question
    return wrapAnswer(this.answer.value, box.widthM, air)
  })
  band = $derived.by(() => this.answer.value.find(({ nominalHz }) => nominalHz === this.state.bandHz) as OwnBoxBand)
  solvedCount = $derived.by(() => this.answer.value.filter(({ model }) => model !== 'closed-form').length)
  /** Whether more of the bands is to come. */
  busy = $derived.by(() => !this.complete && (this.answer.working || this.#waits || this.solving.working))
  #waits = $state(false)
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
      const { things, problems } = savedRigs.read()
      this.saved = things
      this.savedProblems = problems
    }
    $effect(() => {
      const { good, air } = this
      return untrack(() => this.#solve(good, air))
    })
    followRigs()
    const forgetRigs = onListChange(followRigs)
    return () => {
      forgetRigs()
      end()
    }
  }

  /** The box of the form, if it is sound. */
  #drafted = $derived.by(() => (this.sound ? canonicalDesign(this.placed) : undefined))

  /** Makes a sound box the one to show; the link holds the same. */
  #take(design: BoxDesign): void {
    this.good = design
    Object.assign(this.state, linkOf(design))
  }

  /** Puts another box into the form. */
  load(design: BoxDesign): void {
    this.draft = structuredClone($state.snapshot(design) as BoxDesign)
  }

  /** Solves a box once it has rested, unless the page came with its solution. Returns the function that ends it. */
  #solve(design: BoxDesign, air: OwnBoxAsked['air']): () => void {
    this.solving.leave()
    if (sameBox({ box: boxOfDesign(design), air }, this.#start)) return () => {}
    this.#waits = true
    const timer = setTimeout(() => {
      this.#waits = false
      this.solveAgain()
    }, restMs)
    return () => {
      clearTimeout(timer)
      this.#waits = false
      this.solving.leave()
    }
  }

  /** Solves the box that is shown; what is kept of it is not solved again. */
  solveAgain(): void {
    if (this.engine) this.solving.begin(this.engine, rigOfDesign('own box', this.good))
  }

  addDriver(): void {
    if (this.draft.drivers.length >= mostDrivers) return
    this.draft.drivers.push({ ...plainDriver, diameterM: movingDiameterM(firstSizeIn * 0.0254) })
  }

  /** Puts a driver's middle there; the others stay where they are shown. */
  putDriver(index: number, { xM, yM }: { xM: number; yM: number }): void {
    this.placed.drivers.forEach((shown, at) => {
      const { xM: shownXM, yM: shownYM } = shown
      Object.assign(this.draft.drivers[at] as BoxDriver, at === index ? { xM, yM } : { xM: shownXM, yM: shownYM })
    })
  }

  /** Moves a driver toward a place, to half a centimetre; edges stop it, and so do other drivers. */
  dragDriver(index: number, place: { xM: number; yM: number }): void {
    const driver = this.placed.drivers[index]
    if (!driver) return
    const { wideM, highM } = halfSizeM(driver)
    const within = (valueM: number, limitM: number) =>
      Math.min(Math.max(0, limitM), Math.max(-Math.max(0, limitM), toHalfCm(valueM)))
    const to = {
      xM: toGrain(within(place.xM, this.placed.widthM / 2 - wideM)),
      yM: toGrain(within(place.yM, this.placed.heightM / 2 - highM)),
    }
    for (const spot of [to, { ...to, xM: driver.xM }, { ...to, yM: driver.yM }]) {
      if (placeProblem(this.placed, index, spot, this.units)) continue
      this.putDriver(index, spot)
      return
    }
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

/** What a new driver is sold as, inches. */
const firstSizeIn = 5

const toHalfCm = (lengthM: number) => Math.round(lengthM * 200) / 200

const sameBox = (a: OwnBoxAsked, b: OwnBoxAsked): boolean =>
  JSON.stringify([a.box, a.air]) === JSON.stringify([b.box, b.air])

/** Where there are no workers the page itself solves what is shown and no more, band after band. */
async function solveInPage(
  { askEach, show, rest }: Asking<OwnBoxBand[]>,
  question: OwnBoxAsked,
  known: OwnBoxBand[],
): Promise<OwnBoxBand[] | undefined> {
  let bands = known
  show(bands)
  if (!(await rest(restMs / 1000))) return undefined
  const questions = solvingOrderHz.map((nominalHz) => ({ ...question, nominalHz, solved: true }))
  const all = await askEach('ownBoxBand', questions, (band) => {
    bands = bands.map((one) => (one.nominalHz === band.nominalHz ? band : one))
    show(bands)
  })
  return all ? bands : undefined
}

const linkOf = ({ widthM, heightM, depthM, twoWay, crossoverHz, drivers, port, onFloor }: BoxDesign) => ({
  widthM,
  heightM,
  depthM,
  crossoverHz: twoWay ? crossoverHz : 0,
  drivers: driversText(drivers),
  fine: fineText(drivers),
  port: portText(port),
  stands: onFloor ? ('floor' as const) : ('at-ears' as const),
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
    ...(state.stands === 'floor' && { onFloor: true as const }),
  }
}
