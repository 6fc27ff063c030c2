// The ear of a walk: what comes in is made into levels, the last seconds are held against the front, and a place is held until it is enough.

import { type BandEstimates, type BlockLevels, joinedBlocks } from '../../acoustics/index.ts'
import type { HeardPlace, HeldPlace, PhoneHere } from '../../engine/questions/phone-walk/phone-terms.ts'
import type { CapturedPiece } from '../../sound/capture.ts'
import { Recorder, type RecordingDevice } from '../compare/recorder.svelte.ts'
import type { AskEngine } from '../compare/running-take.ts'
import { BlockFeed } from './block-feed.ts'

/** What is held: the room without the sound, the front, or a place of the walk. */
export type HoldKind = 'quiet' | 'front' | 'place'

/** How much of a place counts at least, and when it ends whatever it is worth, s. */
export const heldS = { least: 8, most: 60 } as const
/** The last seconds that are told live, at least, s; and the blocks below which there is no interval. */
export const liveS = 5
const fewestBlocks = 5
/** Without a new block for so long nothing counts as live, ms; how often that is looked at. */
const waitingAfterMs = 2500
const lookEveryMs = 500
/** A gap between two pieces that is longer is lost sound, ms. */
const longestGapMs = 1000

type Hold = { kind: HoldKind; parts: BlockLevels[]; held: HeldPlace | undefined }
/** Why a hold gave nothing: nothing came in, or the sound was interrupted. */
export type HoldProblem = 'silent' | 'interrupted' | 'unjudged'

/** What the walk holds against. */
export type Against = { front: BandEstimates | null; quiet: BandEstimates | null }

export class Listening {
  readonly recorder: Recorder
  /** What is held now, and how far it is. */
  holding:
    | { kind: HoldKind; keptS: number; durationS: number; halfDb: number | null; furtherS: number | null }
    | undefined = $state.raw()
  problem: HoldProblem | undefined = $state()
  /** The last seconds against the front; undefined until there are enough. */
  here: PhoneHere | undefined = $state.raw()
  /** Whether nothing new has come for a while: what is told is then no longer live. */
  isWaiting = $state(false)

  readonly #ask: AskEngine
  readonly #against: () => Against
  readonly #onHeld: (kind: HoldKind, place: HeardPlace) => void
  #feed: BlockFeed | undefined
  #recent: BlockLevels[] = []
  #hold: Hold | undefined
  #working = false
  #lastPieceMs = 0
  #lastBlockMs = 0
  /** Counts what makes older blocks worthless: another hold, a gap, a new opening. */
  #turn = 0

  /**
   * @param ask      the engine
   * @param against  front and quiet as they are now
   * @param onHeld   told what a hold gave
   * @param device   the microphone unless given
   */
  constructor(
    ask: AskEngine,
    against: () => Against,
    onHeld: (kind: HoldKind, place: HeardPlace) => void,
    device?: RecordingDevice,
  ) {
    this.#ask = ask
    this.#against = against
    this.#onHeld = onHeld
    this.recorder = new Recorder(ask, () => {}, device)
    this.recorder.onPiece = (piece) => this.#hear(piece)
  }

  get isOn(): boolean {
    return this.recorder.phase === 'on'
  }

  /** Follows the device and the page. Returns the function that lets the microphone go. */
  start(): () => void {
    const end = this.recorder.start()
    const timer = setInterval(() => this.#look(), lookEveryMs)
    return () => {
      clearInterval(timer)
      end()
    }
  }

  async turnOn(deviceId?: string): Promise<void> {
    this.#forget()
    this.problem = undefined
    this.#lastPieceMs = 0
    await this.recorder.turnOn(deviceId)
  }
  turnOff(): void {
    this.recorder.turnOff()
    this.#forget()
  }

  /** Begins to hold what is heard from now on. */
  hold(kind: HoldKind): void {
    if (!this.isOn) return
    this.#forget()
    this.problem = undefined
    this.#hold = { kind, parts: [], held: undefined }
    this.holding = { kind, keptS: 0, durationS: 0, halfDb: null, furtherS: null }
  }
  /** Takes what has been held so far, if that is worth anything. */
  takeNow(): void {
    if (this.#hold?.held) this.#finish(this.#hold)
  }
  /** Whether there is something to take. */
  get canTake(): boolean {
    return this.holding !== undefined && this.holding.keptS > 0
  }
  drop(): void {
    this.#forget()
  }

  #forget(): void {
    this.#turn++
    this.#feed?.reset()
    this.#recent = []
    this.#hold = undefined
    this.holding = undefined
    this.here = undefined
    this.isWaiting = false
    this.#lastBlockMs = Date.now()
  }

  #hear({ channels, timeMs }: CapturedPiece): void {
    const [samples] = channels
    const sampleRateHz = this.recorder.microphone?.sampleRateHz
    if (!samples || !sampleRateHz) return
    if (this.#lastPieceMs === 0 || !this.#feed || this.#feed.sampleRateHz !== sampleRateHz)
      this.#feed = new BlockFeed(sampleRateHz, this.#ask)
    const gapMs = timeMs - this.#lastPieceMs - (1000 * samples.length) / sampleRateHz
    // What came after a gap does not belong to what came before.
    if (this.#lastPieceMs > 0 && gapMs > longestGapMs) {
      const wasHolding = this.#hold !== undefined
      this.#forget()
      if (wasHolding) this.problem = 'interrupted'
    }
    this.#lastPieceMs = timeMs
    this.#feed.push(samples)
    void this.#work()
  }

  async #work(): Promise<void> {
    const feed = this.#feed
    if (!feed || this.#working) return
    this.#working = true
    const turn = this.#turn
    try {
      const part = await feed.next()
      if (part && turn === this.#turn) await (this.#hold ? this.#keepHolding(this.#hold, part) : this.#listen(part))
    } catch {
      if (turn === this.#turn && this.#hold) {
        this.#forget()
        this.problem = 'unjudged'
      }
    } finally {
      this.#working = false
    }
  }

  async #keepHolding(hold: Hold, part: BlockLevels): Promise<void> {
    hold.parts.push(part)
    const turn = this.#turn
    const { quiet } = this.#against()
    const levels = joinedBlocks(hold.parts)
    const held = await this.#ask('phoneHeld', { levels, quiet: hold.kind === 'quiet' ? null : quiet })
    if (!held || turn !== this.#turn) return
    this.#lastBlockMs = Date.now()
    const { place, confidence } = held
    const isThere = place.levels.some((each) => each !== null)
    if (isThere) hold.held = held
    this.holding = {
      kind: hold.kind,
      keptS: isThere ? place.keptS : 0,
      durationS: place.durationS,
      halfDb: confidence.widest?.halfDb ?? null,
      furtherS: confidence.furtherS,
    }
    const isEnough = isThere && place.keptS >= heldS.least && (hold.kind !== 'front' || confidence.isEnough)
    if (isEnough || (isThere && place.durationS >= heldS.most)) this.#finish(hold)
    else if (place.durationS >= heldS.most) {
      this.#forget()
      this.problem = 'silent'
    }
  }

  #finish(hold: Hold): void {
    const { kind, held, parts } = hold
    this.#forget()
    // Who held a place still stands there.
    if (kind !== 'quiet') this.#recent = parts
    if (held) this.#onHeld(kind, held.place)
  }

  async #listen(part: BlockLevels): Promise<void> {
    this.#recent.push(part)
    const { hopS, windowS } = part
    const wanted = Math.max(fewestBlocks, Math.ceil((liveS - windowS) / hopS) + 1)
    const count = () => this.#recent.reduce((sum, { blockCount }) => sum + blockCount, 0)
    while (this.#recent.length > 1 && count() - (this.#recent[0]?.blockCount ?? 0) >= wanted) this.#recent.shift()
    const turn = this.#turn
    const { front, quiet } = this.#against()
    if (!front || count() < fewestBlocks) {
      this.#lastBlockMs = Date.now()
      return
    }
    const here = await this.#ask('phoneHere', { front, quiet, levels: joinedBlocks(this.#recent) })
    if (!here || turn !== this.#turn) return
    this.here = here
    this.#lastBlockMs = Date.now()
    this.isWaiting = false
  }

  #look(): void {
    if (this.recorder.phase === 'off' && (this.#hold || this.here)) {
      const wasHolding = this.#hold !== undefined
      this.#forget()
      if (wasHolding) this.problem = 'interrupted'
    }
    this.isWaiting = this.isOn && Date.now() - this.#lastBlockMs > waitingAfterMs
  }
}
