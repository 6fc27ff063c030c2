import { untrack } from 'svelte'
import { readyLimitS } from '../../engine/workers/question-limits.ts'
import { withTimeLimit } from '../../engine/workers/time-limit.ts'
import { enclosedHere } from '../../state/enclosed-text.ts'
import type { SavedRig } from '../../state/saved-rigs.ts'
import { hasSavedRigs, onSavedRigsChange } from '../../state/saved-rigs-change.ts'
import type { LinkSchema } from '../../state/share-link.ts'
import type { FigureState } from '../figure/linked-figure.svelte.ts'
import { LiveFigure } from '../figure/live-figure.svelte.ts'
import { isOwnRig, ownRigChoice, type RigChoice } from './rig-choice.ts'
import { RigSolving } from './rig-solving.svelte.ts'

/** A live figure of one rig out of several: the page's, and after the start the reader's own, which is solved when it is chosen. */
export class RigFigure<S extends FigureState & { rig: string }> extends LiveFigure<S> {
  rigs: RigChoice[] = $state.raw([])
  readonly solving = new RigSolving()
  readonly #linkFor: (rigKeys: readonly string[]) => LinkSchema<S>

  /**
   * @param linkFor  the share link for the rigs at hand
   * @param rigs     the page's own
   * @param base     the state that an empty link gives on this page
   */
  constructor(linkFor: (rigKeys: readonly string[]) => LinkSchema<S>, rigs: RigChoice[], base: S) {
    super(linkFor(rigs.map(({ key }) => key)), base)
    this.#linkFor = linkFor
    // Plain data: props arrive as proxies, which cannot be sent to a worker.
    this.rigs = $state.snapshot(rigs) as RigChoice[]
  }

  rig: RigChoice = $derived.by(() => this.rigs.find(({ key }) => key === this.state.rig) ?? (this.rigs[0] as RigChoice))

  /**
   * Takes over what the link says, the reader's own rigs included, and gets ready to answer: at once, or where rigs are kept
   * as soon as the code that reads them is there. Returns the function that ends it.
   */
  override start(): () => void {
    let hasLeft = false
    let end = (): void => {}
    const pageRigs = this.rigs
    const begin = (own: SavedRig[]) => {
      this.#takeOwn(pageRigs, own)
      end = $effect.root(() => {
        const follow = () => ownRigs().then((rigs) => hasLeft || this.#takeOwn(pageRigs, rigs))
        const [endFigure, forget] = [super.start(), onSavedRigsChange(follow)]
        $effect(() => (this.rig ? untrack(() => this.solveOwn()) : undefined))
        return () => {
          forget()
          endFigure()
        }
      })
    }
    if (hasOwnRigs()) ownRigs().then((rigs) => hasLeft || begin(rigs))
    else begin([])
    return () => {
      hasLeft = true
      end()
    }
  }

  /** Offers the reader's own rigs after the page's. */
  #takeOwn(pageRigs: RigChoice[], saved: SavedRig[]): void {
    const { rig: shown, rigs: known } = this
    // A rig that has not changed stays the same object: its solving goes on. One that was deleted stays while it is shown.
    const own = saved.map((rig) => {
      const choice = ownRigChoice(rig)
      return known.find((one) => JSON.stringify(one) === JSON.stringify(choice)) ?? choice
    })
    const gone = isOwnRig(shown.key) && !own.some(({ key }) => key === shown.key)
    this.rigs = [...pageRigs, ...own, ...(gone ? [shown] : [])]
    this.relink(this.#linkFor(this.rigs.map(({ key }) => key)))
  }

  /** With every cabinet that the engine has learnt, what was asked before is asked again. */
  protected override revision(): unknown {
    return this.solving.revision
  }

  /** Solves the reader's own rig, so that its answers come from the real boxes. Returns the function that ends it. */
  solveOwn(): () => void {
    if (!this.engine || !isOwnRig(this.rig.key)) return () => {}
    return this.solving.begin(this.engine, this.rig.rig)
  }
}

/** Whether there is a rig beside the page's: kept on the device, or come with the link. */
const hasOwnRigs = (): boolean => hasSavedRigs() || enclosedHere() !== ''

/** Those; nothing if the code that reads them cannot be had, so that a page does not wait for it. */
async function ownRigs(): Promise<SavedRig[]> {
  if (!hasOwnRigs()) return []
  try {
    const reading = import('../send/at-need.ts').then(({ ownRigs: read }) => read(enclosedHere()))
    return await withTimeLimit(reading, readyLimitS, '')
  } catch {
    return []
  }
}
