import {
  clearPlace,
  footprints,
  type PlanPoint,
  placeAt,
  placePoint,
  type ShoeboxMode,
  shoeboxModesHz,
} from '../../acoustics/index.ts'
import { makeAir } from '../../acoustics/medium/air.ts'
import type { HallAnswer, HallMap, HallMapQuestion, HallQuestion } from '../../engine/questions/hall/hall-parts.ts'
import type { HallDesign } from '../../engine/scene/hall-scene.ts'
import { clearOfM, type HallState, mapHz } from '../../engine/scene/hall-terms.ts'
import { roomAround } from '../../engine/scene/room.ts'
import type { RigChoice } from '../rig-choice/rig-choice.ts'
import { RigFigure } from '../rig-choice/rig-figure.svelte.ts'
import { designOf, type HallPartsState, hallPartsLink, questionOf } from './hall-parts-link.ts'

/** The state of one figure of the hall, and what the engine has answered for it so far. */
export class HallParts extends RigFigure<HallPartsState> {
  readonly halls: HallState[]
  /** The newest answer and the state that it answers: sentences and charts keep to these. */
  answer = $state.raw({} as HallAnswer)
  answered = $state.raw({} as HallPartsState)
  map: HallMap | undefined = $state.raw()
  mapped: HallMapQuestion | undefined = $state.raw()
  mapping = $state(false)
  /** Why the listener's place or the hall could not be computed, or ''. */
  trouble = $state('')

  constructor(rigs: RigChoice[], halls: HallState[], base: HallPartsState, initial: HallAnswer) {
    super(hallPartsLink, rigs, base)
    // Plain data: props arrive as proxies, which cannot be sent to a worker.
    this.halls = $state.snapshot(halls) as HallState[]
    this.answer = initial
    this.answered = $state.snapshot(this.state) as HallPartsState
  }

  design: HallDesign = $derived.by(() => designOf(this.state, this.halls))
  cabinets = $derived(footprints(this.rig.rig))
  question: HallQuestion = $derived.by(() => questionOf(this.state, this.rig.rig, this.halls))
  /** What may be looked up of the resonances, up to the highest frequency of the map. */
  modes: ShoeboxMode[] = $derived.by(() => shoeboxModesHz(this.design, mapHz.max, makeAir()))

  /** Asks for everything but the map; the newest question wins, the last good answer stays. */
  async askAnswer(question: HallQuestion, state: HallPartsState): Promise<void> {
    const { engine } = this
    if (!engine) return
    this.busy = true
    try {
      const answer = await engine.ask('hall', 'hallAnswer', question)
      if (!answer) return
      this.answer = answer
      this.answered = state
      this.trouble = ''
    } catch (error) {
      this.trouble = `This could not be computed; the last picture stays. (${error instanceof Error ? error.message : error})`
    }
    this.busy = false
    this.withoutWorkers = engine.withoutWorkers
  }

  /** Asks for the map of one frequency; the last one stays until it is there. */
  async askMap(question: HallMapQuestion): Promise<void> {
    await this.attempt('map', async (engine) => {
      this.mapping = true
      try {
        const map = await engine.ask('hall map', 'hallMap', question)
        if (!map) return
        this.map = map
        this.mapped = question
        this.mapping = false
      } catch (error) {
        this.mapping = false
        throw error
      }
    })
  }

  /** Asks for the impulse responses that the sound is made with. */
  async askResponses(
    question: HallQuestion,
    compare: HallPartsState['compare'],
    other: HallDesign,
    sampleRateHz: number,
  ) {
    const { rig, hall, place } = question
    return this.engine?.ask('hall responses', 'hallResponses', { rig, hall, place, compare, other, sampleRateHz })
  }

  /** Puts the listener there, to 5 cm; walls and boxes stop it. */
  setPlace(place: PlanPoint): void {
    const inside = withinHall(toFiveCm(place), this.design)
    const clear = placePoint(clearPlace(placeAt(inside), this.rig.rig, clearOfM), 0)
    const { xM, zM } = withinHall(clear, this.design)
    this.state.xM = hundredths(xM)
    this.state.zM = hundredths(zM)
  }

  /** Takes another hall; a listener who would be outside it comes in. */
  settle(): void {
    const { xM, zM } = withinHall({ xM: this.state.xM, zM: this.state.zM }, this.design)
    if (xM !== this.state.xM || zM !== this.state.zM) this.setPlace({ xM, zM })
  }

  /** The next resonance above or below, Hz. */
  stepMode(step: 1 | -1): void {
    const { frequencyHz } = this.state
    const heard = this.modes.map((mode) => toHalfHz(mode.frequencyHz)).filter((f) => f >= mapHz.min && f <= mapHz.max)
    const next = step > 0 ? heard.find((f) => f > frequencyHz) : heard.findLast((f) => f < frequencyHz)
    if (next !== undefined) this.state.frequencyHz = next
  }
}

/** The nearest place in a hall that is clear of its walls. */
function withinHall({ xM, zM }: PlanPoint, design: HallDesign): PlanPoint {
  const room = roomAround(design)
  const within = (value: number, min: number, max: number) => Math.min(max - clearOfM, Math.max(min + clearOfM, value))
  return { xM: within(xM, room.xMinM, room.xMaxM), zM: within(zM, room.zMinM, room.zMaxM) }
}

const hundredths = (value: number) => Math.round(value * 100) / 100
const toFiveCm = ({ xM, zM }: PlanPoint): PlanPoint => ({ xM: Math.round(xM * 20) / 20, zM: Math.round(zM * 20) / 20 })
const toHalfHz = (frequencyHz: number) => Math.round(frequencyHz / mapHz.step) * mapHz.step
