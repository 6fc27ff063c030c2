import {
  clearPlace,
  footprints,
  type PlanPoint,
  placeAt,
  placePoint,
  type ShoeboxMode,
  shoeboxModesHz,
} from '../../acoustics/index.ts'
import type { HallMap, HallMapQuestion } from '../../engine/questions/hall/hall-map.ts'
import type { HallAnswer, HallQuestion } from '../../engine/questions/hall/hall-parts.ts'
import { airOf } from '../../engine/scene/air.ts'
import type { HallResponses } from '../../engine/scene/hall-responses.ts'
import type { HallDesign } from '../../engine/scene/hall-scene.ts'
import { clearOfM, mapHz } from '../../engine/scene/hall-terms.ts'
import { roomAround } from '../../engine/scene/room.ts'
import * as words from '../../words/words.messages.ts'
import type { Asked } from '../figure/asked.svelte.ts'
import type { Hearable } from '../figure/hearable.svelte.ts'
import { type HallChoice, placesOf } from '../rig-choice/hall-choice.ts'
import type { RigChoice } from '../rig-choice/rig-choice.ts'
import { RigFigure } from '../rig-choice/rig-figure.svelte.ts'
import * as say from './hall-parts.messages.ts'
import { designOf, type HallPartsState, hallPartsLink, mapQuestionOf, questionOf } from './hall-parts-link.ts'

/** What of the figure the words about an answer need beside the question. */
type HallAbout = { key: HallPartsState['hall']; description: string }

/** The state of one figure of the hall, and what has been answered for it so far. */
export class HallParts extends RigFigure<HallPartsState> {
  /** Everything but the map, and which hall and rig the question is of. */
  readonly answer: Asked<HallQuestion, HallAnswer, HallAbout>
  /** The map of one low frequency, asked for while it is looked at. */
  readonly map: Asked<HallMapQuestion, HallMap>
  /** What two places sound like; a hall takes seconds to make, so it waits until the listener rests. */
  readonly sound: Hearable<object, HallResponses>

  /** All but the rig and the level, which stand with the hall. */
  protected override get atHand() {
    return ['xM', 'zM', 'frequencyHz', 'source', 'signal', 'level'] as const
  }

  /** @param initialMap  the map of the first state, where that shows one */
  constructor(rigs: RigChoice[], halls: HallChoice[], base: HallPartsState, initial: HallAnswer, initialMap?: HallMap) {
    super(hallPartsLink, rigs, base, halls)
    this.answer = this.asks('hallAnswer', () => this.question, {
      what: words.answer(),
      first: initial,
      about: () => ({ key: this.state.hall, description: this.rig.description }),
    })
    this.map = this.asks(
      'hallMap',
      () => (this.state.view === 'resonances' ? mapQuestionOf(this.state, this.question) : undefined),
      { what: say.map(), ...(initialMap && { first: initialMap }) },
    )
    this.sound = this.hears(
      'hallResponses',
      () => {
        const { rig, hall, place } = this.question
        const { compare } = this.state
        return { rig, hall, place, compare, ...(compare === 'halls' && { other: this.other }) }
      },
      { restS: 0.5 },
    )
  }

  /** The reader's own hall, if it is one. */
  ownHall = $derived.by(() => this.halls.find(({ key, places }) => places && key === this.state.hall))
  /** Whether it is the demo hall, whose furniture is drawn. */
  isDemo = $derived.by(() => this.state.hall !== 'own' && !this.ownHall)
  design: HallDesign = $derived.by(() => designOf(this.state, this.halls))
  /** The hall that this one is heard against. */
  other: HallDesign = $derived.by(() => this.halls.find(({ key }) => key === this.state.other)?.design ?? this.design)
  cabinets = $derived(footprints(this.rig.rig))
  question: HallQuestion = $derived.by(() => questionOf(this.state, this.rig.rig, this.halls))
  /** The resonances of the hall as it stands now, up to the highest frequency of the map. */
  modes: ShoeboxMode[] = $derived.by(() => shoeboxModesHz(this.design, mapHz.max, airOf(this.air)))

  /** Puts the listener there, to 5 cm; walls and boxes stop it. */
  setPlace(place: PlanPoint): void {
    const inside = withinHall(toFiveCm(place), this.design)
    const clear = placePoint(clearPlace(placeAt(inside), this.rig.rig, clearOfM), 0)
    const { xM, zM } = withinHall(clear, this.design)
    this.state.xM = hundredths(xM)
    this.state.zM = hundredths(zM)
  }

  /** Ground in the open has no resonances and no reverberant field. */
  protected override fitting(halls: HallChoice[]): HallChoice[] {
    return halls.filter(({ design }) => design)
  }

  /** Takes another hall: in one of the reader's own the listener goes where somebody listens behind the rig, or else stays inside. */
  takeHall(key: string): void {
    this.state.hall = key
    const { behind } = placesOf(this.ownHall ?? {})
    if (behind) this.setPlace(behind)
    else this.settle()
  }

  /** A listener who would be outside comes in. */
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
