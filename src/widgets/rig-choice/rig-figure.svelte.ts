import { untrack } from 'svelte'
import { readyLimitS } from '../../engine/workers/question-limits.ts'
import { withTimeLimit } from '../../engine/workers/time-limit.ts'
import { enclosedHere } from '../../state/enclosed-text.ts'
import { isAnyKept, onListChange, savedHallsKey, savedRigsKey } from '../../state/kept-list-change.ts'
import type { LinkSchema } from '../../state/share-link.ts'
import type { FigureState } from '../figure/linked-figure.svelte.ts'
import { LiveFigure } from '../figure/live-figure.svelte.ts'
import type { HallChoice } from './hall-choice.ts'
import { isOwn, type RigChoice } from './rig-choice.ts'
import type { RigSolving } from './rig-solving.svelte.ts'

/** The share link for the rigs and the halls at hand. */
type LinkFor<S extends Record<string, unknown>> = (
  rigKeys: readonly string[],
  hallKeys: readonly string[],
) => LinkSchema<S>

/** What the reader has beside the page's own. */
type OwnThings = { rigs: RigChoice[]; halls: HallChoice[] }

const keysOf = (things: readonly { key: string }[]) => things.map(({ key }) => key)

/**
 * A live figure of one rig out of several: the page's, and after the start the reader's own, which is solved when it is chosen. Where
 * the page has halls, the reader's own are on offer beside them.
 */
export class RigFigure<S extends FigureState & { rig: string; hall?: string; other?: string }> extends LiveFigure<S> {
  rigs: RigChoice[] = $state.raw([])
  halls: HallChoice[] = $state.raw([])
  /** The work of solving the reader's own rig, once one has been chosen. */
  solving: RigSolving | undefined = $state.raw()
  /** Whether the code of that work could not be fetched. */
  solverMissing = $state(false)
  readonly #linkFor: LinkFor<S>

  /**
   * @param linkFor  the share link for the rigs and the halls at hand
   * @param rigs     the page's own
   * @param base     the state that an empty link gives on this page
   * @param halls    the page's own
   */
  constructor(linkFor: LinkFor<S>, rigs: RigChoice[], base: S, halls: HallChoice[] = []) {
    super(linkFor(keysOf(rigs), keysOf(halls)), base)
    this.#linkFor = linkFor
    // Plain data: props arrive as proxies, which cannot be sent to a worker.
    this.rigs = $state.snapshot(rigs) as RigChoice[]
    this.halls = $state.snapshot(halls) as HallChoice[]
  }

  rig: RigChoice = $derived.by(() => this.rigs.find(({ key }) => key === this.state.rig) ?? (this.rigs[0] as RigChoice))

  /**
   * Takes over what the link says, the reader's own rigs included, and gets ready to answer: at once, or where rigs are kept
   * as soon as the code that reads them is there. Returns the function that ends it.
   */
  override start(): () => void {
    let hasLeft = false
    let end = (): void => {}
    const page = { rigs: this.rigs, halls: this.halls }
    const begin = (own: OwnThings) => {
      this.#takeOwn(page, own)
      end = $effect.root(() => {
        const follow = () => ownThings().then((things) => hasLeft || this.#takeOwn(page, things))
        const [endFigure, forget] = [super.start(), onListChange(follow)]
        $effect(() => (this.rig ? untrack(() => this.solveOwn()) : undefined))
        return () => {
          forget()
          endFigure()
        }
      })
    }
    if (hasOwnThings()) ownThings().then((things) => hasLeft || begin(things))
    else begin(nothing)
    return () => {
      hasLeft = true
      end()
    }
  }

  /** Offers the reader's own after the page's: halls where the page has any. */
  #takeOwn(page: OwnThings, own: OwnThings): void {
    const { hall, other } = this.state
    this.rigs = withOwn(page.rigs, own.rigs, this.rigs, [this.rig.key])
    if (page.halls.length > 0) this.halls = withOwn(page.halls, this.fitting(own.halls), this.halls, [hall, other])
    this.relink(this.#linkFor(keysOf(this.rigs), keysOf(this.halls)))
  }

  /** The halls that this figure can take. */
  protected fitting(halls: HallChoice[]): HallChoice[] {
    return halls
  }

  /** With every cabinet that the engine has learnt, what was asked before is asked again. */
  protected override revision(): unknown {
    return this.solving?.revision ?? 0
  }

  /** Solves the reader's own rig, so that its answers come from the real boxes. Returns the function that ends it. */
  solveOwn(): () => void {
    const { engine, rig } = this
    if (!engine || !isOwn(rig.key)) return () => {}
    let hasLeft = false
    let leave = (): void => {}
    this.solverMissing = false
    // Most readers have no rig of their own.
    const fetched = this.solving ? Promise.resolve(this.solving) : newSolving()
    fetched.then(
      (solving) => {
        if (hasLeft) return
        this.solving = solving
        leave = solving.begin(engine, rig.rig)
      },
      () => {
        if (!hasLeft) this.solverMissing = true
      },
    )
    return () => {
      hasLeft = true
      leave()
    }
  }
}

const newSolving = async (): Promise<RigSolving> =>
  new (await withTimeLimit(import('./rig-solving.svelte.ts'), readyLimitS, '')).RigSolving()

/** The page's things and the reader's. What has not changed stays the same object; what was deleted stays while it is shown. */
function withOwn<T extends { key: string }>(
  page: readonly T[],
  own: readonly T[],
  known: readonly T[],
  shown: readonly (string | undefined)[],
): T[] {
  const all = [
    ...page,
    ...own.map((thing) => known.find((one) => JSON.stringify(one) === JSON.stringify(thing)) ?? thing),
  ]
  return [...all, ...known.filter(({ key }) => shown.includes(key) && !keysOf(all).includes(key))]
}

/** Whether there is anything beside the page's: kept on the device, or come with the link. */
const hasOwnThings = (): boolean => isAnyKept(savedRigsKey) || isAnyKept(savedHallsKey) || enclosedHere() !== ''

const nothing: OwnThings = { rigs: [], halls: [] }

/** Those; nothing if the code that reads them cannot be had, so that a page does not wait for it. */
async function ownThings(): Promise<OwnThings> {
  if (!hasOwnThings()) return nothing
  try {
    const reading = import('../send/at-need.ts').then(({ ownThings: read }) => read(enclosedHere()))
    return await withTimeLimit(reading, readyLimitS, '')
  } catch {
    return nothing
  }
}
