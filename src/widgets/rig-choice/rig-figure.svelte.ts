import { untrack } from 'svelte'
import { onSavedRigsChange, readSavedRigs } from '../../state/saved-rigs.ts'
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

  /** Takes over what the link says, the reader's own rigs included, and gets ready to answer. Returns the function that ends it. */
  override start(): () => void {
    const pageRigs = this.rigs
    const takeOwn = () => {
      const { rig: shown, rigs: known } = this
      // A rig that has not changed stays the same object: its solving goes on. One that was deleted stays while it is shown.
      const own = readSavedRigs().rigs.map((saved) => {
        const choice = ownRigChoice(saved)
        return known.find((one) => JSON.stringify(one) === JSON.stringify(choice)) ?? choice
      })
      const gone = isOwnRig(shown.key) && !own.some(({ key }) => key === shown.key)
      this.rigs = [...pageRigs, ...own, ...(gone ? [shown] : [])]
      this.relink(this.#linkFor(this.rigs.map(({ key }) => key)))
    }
    takeOwn()
    const forget = onSavedRigsChange(takeOwn)
    const end = super.start()
    $effect(() => (this.rig ? untrack(() => this.solveOwn()) : undefined))
    return () => {
      forget()
      end()
    }
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
