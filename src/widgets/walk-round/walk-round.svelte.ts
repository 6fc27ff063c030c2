import {
  clearPlace,
  footprints,
  type ListeningPlace,
  type PlanWalls,
  placeAt,
  placeBetweenWalls,
  placePoint,
  type Rig,
} from '../../acoustics/index.ts'
import type { Picture, Surroundings, WalkAnswer, WalkQuestion } from '../../engine/questions/walk/walk.ts'
import type { HallState } from '../../engine/scene/hall-terms.ts'
import { roomAround } from '../../engine/scene/room.ts'
import { earHeightM } from '../../engine/scene/scene-terms.ts'
import { wallZM } from '../../engine/scene/wall-place.ts'
import type { RigChoice } from '../rig-choice/rig-choice.ts'
import { RigFigure } from '../rig-choice/rig-figure.svelte.ts'
import { cellsAcross, hallCellsAcross, pictureParts } from './picture-parts.ts'
import { listenerRange, type WalkRoundState, walkRoundLink } from './walk-round-link.ts'

const radiansPerDegree = Math.PI / 180

const noWalls: PlanWalls = {
  xMinM: Number.NEGATIVE_INFINITY,
  xMaxM: Number.POSITIVE_INFINITY,
  zMinM: Number.NEGATIVE_INFINITY,
  zMaxM: Number.POSITIVE_INFINITY,
}

/** Where the rig stands, for the engine. */
function surroundingsOf({ surroundings, wallM, hall }: WalkRoundState, halls: HallState[]): Surroundings {
  const state = halls.find(({ key }) => key === hall)
  if (surroundings === 'hall' && state) return { kind: 'hall', design: state.design }
  return surroundings === 'wall' ? { kind: 'wall', wallM } : { kind: 'outdoors' }
}

/** How close a listener may come to a wall and to a box in front of it, m: about a head. */
const wallClearanceM = 0.12

/** The state of one walk-round, and what the engine has answered for it so far. */
export class WalkRound extends RigFigure<WalkRoundState> {
  answer = $state.raw({} as WalkAnswer)
  pictures: Picture[] = $state.raw([])
  /** Whether the newest question is still open: in a hall the first answer takes seconds. */
  waiting = $state(false)
  #round = 0

  /** Tidewater Grange in its states. */
  readonly halls: HallState[]

  constructor(rigs: RigChoice[], halls: HallState[], base: WalkRoundState, initial: WalkAnswer) {
    super(walkRoundLink, rigs, base)
    // Plain data: props arrive as proxies, which cannot be sent to a worker.
    this.halls = $state.snapshot(halls) as HallState[]
    this.answer = initial
  }

  surroundings: Surroundings = $derived.by(() =>
    surroundingsOf($state.snapshot(this.state) as WalkRoundState, this.halls),
  )
  /** The walls on the plan. */
  walls: PlanWalls = $derived.by(() => {
    if (this.surroundings.kind === 'hall') return roomAround(this.surroundings.design)
    const zMinM =
      this.surroundings.kind === 'wall' ? wallZM(this.rig.rig, this.surroundings.wallM) : Number.NEGATIVE_INFINITY
    return { ...noWalls, zMinM }
  })

  /** The place as asked for, moved out of the boxes if it was inside, and stopped at the wall. */
  place: ListeningPlace = $derived.by(() =>
    this.#clear({ angleRad: this.state.angleDeg * radiansPerDegree, distanceM: this.state.distanceM }),
  )
  /** Direction of the place, whole degrees. */
  angleDeg = $derived.by(() => Math.round(this.place.angleRad / radiansPerDegree))
  listener = $derived(placePoint(this.place, earHeightM))
  front = $derived(placePoint(this.answer.frontPlace, earHeightM))
  cabinets = $derived(footprints(this.rig.rig))

  #clear(place: ListeningPlace): ListeningPlace {
    return this.surroundings.kind === 'outdoors'
      ? clearPlace(place, this.rig.rig)
      : placeBetweenWalls(place, this.rig.rig, this.walls, wallClearanceM)
  }

  /** What is asked about: rig, place and surroundings, as plain data. */
  question: WalkQuestion = $derived.by(() => ({
    rig: this.rig.rig,
    place: this.place,
    datum: this.state.datum,
    surroundings: this.surroundings,
  }))

  /** Asks for the levels here and in front; the newest place wins. */
  async askAnswer(question: WalkQuestion, referenceDbA: number): Promise<void> {
    this.waiting = true
    const round = ++this.#round
    await this.attempt('answer', async (engine) => {
      const answer = await engine.ask('answer', 'walkAnswer', { ...question, referenceDbA })
      if (answer) this.answer = answer
    })
    if (round === this.#round) this.waiting = false
  }

  /** Asks for the pictures of the plan: two halves, or one whole. The last picture stays until they are there. */
  async askPictures(
    rig: Rig,
    surroundings: Surroundings,
    kind: WalkRoundState['picture'],
    bands: WalkRoundState['bands'],
    frequencyHz: number,
  ): Promise<void> {
    await this.attempt('picture', async (engine) => {
      this.busy = true
      const pictures = await Promise.all(
        pictureParts(bands, frequencyHz, surroundings.kind === 'hall' ? hallCellsAcross : cellsAcross).map(
          (part, index) => engine.ask(`picture ${index}`, 'planPicture', { rig, kind, surroundings, ...part }),
        ),
      )
      if (pictures.every((picture) => picture !== undefined)) {
        this.pictures = pictures as Picture[]
        this.busy = false
      }
    })
  }

  /** Asks for the impulse responses that the sound is made with. */
  async askResponses(question: WalkQuestion, sampleRateHz: number) {
    return this.engine?.ask('responses', 'walkResponses', { ...question, sampleRateHz, length: 8192 })
  }

  /** Puts the listener at a plan place, to whole degrees and 5 cm. */
  moveTo(spot: { xM: number; zM: number }): void {
    const { angleRad, distanceM } = this.#clear(placeAt(spot))
    this.state.angleDeg = Math.round(angleRad / radiansPerDegree)
    this.state.distanceM = within(listenerRange.distanceM, Math.round(distanceM * 20) / 20)
  }

  /** Moves the listener by keyboard steps: round by 5°, out or in by 0.25 m. */
  step({ angleSteps = 0, distanceSteps = 0 }: { angleSteps?: number; distanceSteps?: number }): void {
    const angle = this.state.angleDeg + angleSteps * listenerRange.angleDeg.step
    this.state.angleDeg = angle > 180 ? angle - 360 : angle <= -180 ? angle + 360 : angle
    this.state.distanceM = within(
      listenerRange.distanceM,
      this.state.distanceM + distanceSteps * listenerRange.distanceM.step,
    )
  }
}

const within = ({ min, max }: { min: number; max: number }, value: number) => Math.min(max, Math.max(min, value))
