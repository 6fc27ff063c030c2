import {
  clearPlace,
  footprints,
  type ListeningPlace,
  measuredDistanceM,
  type PlanWalls,
  placeAt,
  placeAtMeasuredDistance,
  placeBetweenWalls,
  placePoint,
  type Rig,
} from '../../acoustics/index.ts'
import type { WalkAnswer, WalkQuestion } from '../../engine/questions/walk/walk.ts'
import type { Picture } from '../../engine/scene/picture.ts'
import type { Responses } from '../../engine/scene/responses.ts'
import { wallZM } from '../../engine/scene/rig-outline.ts'
import { roomAround } from '../../engine/scene/room.ts'
import { earHeightM } from '../../engine/scene/scene-terms.ts'
import type { Surroundings } from '../../engine/scene/surroundings.ts'
import * as words from '../../words/words.messages.ts'
import type { Asked } from '../figure/asked.svelte.ts'
import type { Hearable } from '../figure/hearable.svelte.ts'
import type { HallChoice } from '../rig-choice/hall-choice.ts'
import type { RigChoice } from '../rig-choice/rig-choice.ts'
import { RigFigure } from '../rig-choice/rig-figure.svelte.ts'
import { cellsAcross, hallCellsAcross, pictureParts } from './picture-parts.ts'
import { highestWaveHz, listenerRange, type WalkRoundState, walkRoundLink } from './walk-round-link.ts'

const radiansPerDegree = Math.PI / 180

const noWalls: PlanWalls = {
  xMinM: Number.NEGATIVE_INFINITY,
  xMaxM: Number.POSITIVE_INFINITY,
  zMinM: Number.NEGATIVE_INFINITY,
  zMaxM: Number.POSITIVE_INFINITY,
}

/** Where the rig stands, for the engine. */
function surroundingsOf({ surroundings, wallM, hall }: WalkRoundState, halls: HallChoice[]): Surroundings {
  const { design, ground } = halls.find(({ key }) => key === hall) ?? {}
  if (surroundings === 'hall' && design) return { kind: 'hall', design }
  if (surroundings === 'wall') return { kind: 'wall', gapM: wallM }
  const floor = surroundings === 'hall' ? ground : surroundings
  return floor && floor !== 'outdoors' ? { kind: 'outdoors', floor } : { kind: 'outdoors' }
}

/** How close a listener may come to a wall and to a box in front of it, m: about a head. */
const wallClearanceM = 0.12

/** What the plan shows: its parts and what they are of. */
type PictureAsked = {
  rig: Rig
  surroundings: Surroundings
  kind: WalkRoundState['picture']
  bands: WalkRoundState['bands']
  frequencyHz: number
}

/** The direction of a place, whole degrees. */
export const angleDegOf = ({ angleRad }: ListeningPlace): number => Math.round(angleRad / radiansPerDegree)

/** A step of the keyboard: round, out or in, or straight to a direction. */
export type WalkStep = { angleSteps?: number; distanceSteps?: number; toDeg?: number }

/** The state of one walk-round, and what has been answered for it so far. */
export class WalkRound extends RigFigure<WalkRoundState> {
  /** Levels here and in front, and what of the rig the words about them need. */
  readonly answer: Asked<WalkQuestion, WalkAnswer, { description: string }>
  /** The pictures of the plan: two halves, or one whole. */
  readonly pictures: Asked<PictureAsked, Picture[]>
  /** What the two places sound like. */
  readonly sound: Hearable<object, Responses>

  /** Whether the waves of the plan are held. */
  paused = $state(false)

  protected override get atHand() {
    return ['angleDeg', 'distanceM', 'signal', 'level'] as const
  }

  /** @param halls  Tidewater Grange in its states */
  constructor(rigs: RigChoice[], halls: HallChoice[], base: WalkRoundState, initial: WalkAnswer) {
    super(walkRoundLink, rigs, base, halls)
    this.answer = this.asks('walkAnswer', () => this.question, {
      what: words.answer(),
      first: initial,
      about: () => ({ description: this.rig.description }),
    })
    this.pictures = this.works(
      () => this.pictureAsked,
      async ({ ask }, { kind, bands, frequencyHz, ...asked }) => {
        const cells = asked.surroundings.kind === 'hall' ? hallCellsAcross : cellsAcross
        const parts = pictureParts(bands, frequencyHz, cells)
        const pictures = await Promise.all(
          parts.map((part, index) => ask('planPicture', { ...asked, kind, ...part }, String(index))),
        )
        return pictures.every((picture) => picture !== undefined) ? pictures : undefined
      },
      { what: words.picture(), still: true },
    )
    this.sound = this.hears('walkResponses', () => ({ ...this.#here, length: 8192 }))
  }

  surroundings: Surroundings = $derived.by(() =>
    surroundingsOf($state.snapshot(this.state) as WalkRoundState, this.halls),
  )
  /** The reader's own hall, if it is one. */
  ownHall = $derived.by(() => this.halls.find(({ key, places }) => places && key === this.state.hall))
  /** The walls on the plan. */
  walls: PlanWalls = $derived.by(() => {
    if (this.surroundings.kind === 'hall') return roomAround(this.surroundings.design)
    const zMinM =
      this.surroundings.kind === 'wall' ? wallZM(this.rig.rig, this.surroundings.gapM) : Number.NEGATIVE_INFINITY
    return { ...noWalls, zMinM }
  })

  /** The place as asked for, moved out of the boxes if it was inside, and stopped at the wall. */
  place: ListeningPlace = $derived.by(() =>
    this.#clear({ angleRad: this.state.angleDeg * radiansPerDegree, distanceM: this.state.distanceM }),
  )
  /** Direction of the place, whole degrees. */
  angleDeg = $derived(angleDegOf(this.place))
  listener = $derived(placePoint(this.place, earHeightM))
  front = $derived.by(() => placePoint(this.answer.value.frontPlace, earHeightM))
  cabinets = $derived(footprints(this.rig.rig))

  #clear(place: ListeningPlace): ListeningPlace {
    return this.surroundings.kind === 'outdoors'
      ? clearPlace(place, this.rig.rig)
      : placeBetweenWalls(place, this.rig.rig, this.walls, wallClearanceM)
  }

  /** Rig, place and surroundings. */
  #here = $derived.by(() => ({
    rig: this.rig.rig,
    place: this.place,
    datum: this.state.datum,
    surroundings: this.surroundings,
  }))
  question: WalkQuestion = $derived.by(() => ({ ...this.#here, referenceDbA: this.state.referenceDbA }))

  /** In a hall only levels are drawn: its waves cross from all sides. */
  pictureKind: WalkRoundState['picture'] = $derived(this.surroundings.kind === 'hall' ? 'levels' : this.state.picture)
  /** The frequency of a picture of one frequency. */
  pictureHz = $derived(
    this.pictureKind === 'waves' ? Math.min(this.state.frequencyHz, highestWaveHz) : this.state.frequencyHz,
  )
  pictureAsked: PictureAsked = $derived.by(() => ({
    rig: this.rig.rig,
    surroundings: this.surroundings,
    kind: this.pictureKind,
    bands: this.state.bands,
    frequencyHz: this.state.bands === 'one' ? this.pictureHz : 0,
  }))

  /** How far the listener may be, as the chosen datum measures it, m. */
  distanceRange = $derived.by(() => {
    const { min, max } = listenerRange.distanceM
    if (this.state.datum === 'front-face') return { min, max }
    const measured = (distanceM: number) =>
      measuredDistanceM(clearPlace({ ...this.place, distanceM }, this.rig.rig), this.rig.rig, this.state.datum)
    return { min: roundUp(measured(min)), max: roundDown(measured(max)) }
  })
  /** The listener's distance as the chosen datum measures it, m. */
  measuredM = $derived(measuredDistanceM(this.place, this.rig.rig, this.state.datum))

  /** Puts the listener at a distance that the chosen datum measures, in the direction where it is. */
  setMeasured(measuredM: number): void {
    const { angleRad } = this.place
    const { distanceM } = placeAtMeasuredDistance(angleRad, measuredM, this.rig.rig, this.state.datum)
    this.state.distanceM = within(listenerRange.distanceM, Math.round(distanceM * 100) / 100)
  }

  /** Puts the listener at a plan place, to whole degrees and 5 cm. */
  moveTo(spot: { xM: number; zM: number }): void {
    const { angleRad, distanceM } = this.#clear(placeAt(spot))
    this.state.angleDeg = Math.round(angleRad / radiansPerDegree)
    this.state.distanceM = within(listenerRange.distanceM, Math.round(distanceM * 20) / 20)
  }

  /** Moves the listener by keyboard steps: round by 5°, out or in by 0.25 m, or to a direction. */
  step({ angleSteps = 0, distanceSteps = 0, toDeg }: WalkStep): void {
    const angle = toDeg ?? this.state.angleDeg + angleSteps * listenerRange.angleDeg.step
    this.state.angleDeg = angle > 180 ? angle - 360 : angle <= -180 ? angle + 360 : angle
    this.state.distanceM = within(
      listenerRange.distanceM,
      this.state.distanceM + distanceSteps * listenerRange.distanceM.step,
    )
  }
}

const roundUp = (lengthM: number) => Math.ceil(lengthM * 20 - 1e-9) / 20
const roundDown = (lengthM: number) => Math.floor(lengthM * 20 + 1e-9) / 20
const within = ({ min, max }: { min: number; max: number }, value: number) => Math.min(max, Math.max(min, value))
