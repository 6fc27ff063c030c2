import * as v from 'valibot'
import { checkRig } from '../acoustics/index.ts'
import { plainWords } from './plain-words.ts'
import * as say from './plan.messages.ts'
import { boxEntries } from './rig-schema.ts'

// What a plan is: one evening's place, with what stands in it and who listens where. Kept on the device and written to a file.

/** Version of the stored form and of the file. */
export const planVersion = 1

/** How many of each a plan may hold. */
export const mostCabinets = 24
export const mostPlaces = 12
export const mostOwnBoxes = 12
/** Longest note of a plan, letters. */
export const longestNote = 400

/** Limits of the numbers that a reader types; lengths in m, angles in degrees, delays in ms. */
export const planRange = {
  lengthM: { min: 3, max: 100 },
  widthM: { min: 3, max: 60 },
  heightM: { min: 2.2, max: 20 },
  people: { min: 0, max: 3000 },
  xM: { min: -100, max: 100 },
  zM: { min: -100, max: 200 },
  baseM: { min: 0, max: 12 },
  earM: { min: 0.3, max: 6 },
  yawDeg: { min: -180, max: 180 },
  levelDb: { min: -30, max: 10 },
  delayMs: { min: 0, max: 200 },
  programmeDbA: { min: 60, max: 105 },
  neighbourM: { min: 10, max: 500 },
  openingM2: { min: 0, max: 40 },
  stageM: { min: 0.5, max: 40 },
  stageHeightM: { min: 0.1, max: 2.5 },
} as const

const between = ({ min, max }: { min: number; max: number }) =>
  v.pipe(
    v.number(),
    v.finite(),
    v.check(
      (value) => value >= min && value <= max,
      ({ received }) => say.outOfRange({ value: received, least: String(min), most: String(max) }),
    ),
  )
/** Words of a reader, fit to be shown: what a link carries comes out as it went in. */
const words = (most: number) =>
  v.pipe(
    v.string(),
    v.maxLength(most),
    v.transform((text) => plainWords(text, most)),
  )
const id = v.pipe(v.string(), v.regex(/^[a-z]\d{1,6}$/))
const key = words(120)

const surfaces = v.strictObject({
  wallLeft: key,
  wallRight: key,
  floor: key,
  ceiling: key,
  wallBehind: key,
  wallOpposite: key,
})
export type SurfaceName = keyof v.InferOutput<typeof surfaces>

/** x right and z away from the wall behind, from its middle. Outdoors the same rectangle is what the drawing shows. */
export const groundSchema = v.variant('kind', [
  v.strictObject({
    kind: v.literal('hall'),
    lengthM: between(planRange.lengthM),
    widthM: between(planRange.widthM),
    heightM: between(planRange.heightM),
    surfaces,
    people: v.pipe(between(planRange.people), v.integer()),
  }),
  v.strictObject({
    kind: v.literal('outdoors'),
    lengthM: between(planRange.lengthM),
    widthM: between(planRange.widthM),
    ground: v.picklist(['hard', 'grass']),
  }),
])

const stage = v.strictObject({
  /** Its middle on the plan, and its size. */
  xM: between(planRange.xM),
  zM: between(planRange.zM),
  widthM: between(planRange.stageM),
  depthM: between(planRange.stageM),
  heightM: between(planRange.stageHeightM),
})

const cabinet = v.strictObject({
  id,
  /** Which box: a rig's name and a cabinet's, 'top-over-sub/top', or one of `ownBoxes`. */
  box: key,
  /** The middle of its front face on the plan; its underside above the floor. */
  xM: between(planRange.xM),
  zM: between(planRange.zM),
  baseM: between(planRange.baseM),
  /** 0 faces away from the wall behind, positive turns to the right, +x. */
  yawDeg: between(planRange.yawDeg),
  levelDb: between(planRange.levelDb),
  delayMs: between(planRange.delayMs),
  inverted: v.boolean(),
  /** Boxes of one group move together; '' stands alone. */
  group: words(20),
})

const place = v.strictObject({
  id,
  name: v.pipe(words(40), v.minLength(1)),
  xM: between(planRange.xM),
  zM: between(planRange.zM),
  /** Ears above the floor. */
  earM: between(planRange.earM),
})

const neighbour = v.strictObject({
  name: v.pipe(words(40), v.minLength(1)),
  /** Behind which wall of the hall, and how far from it. */
  side: v.picklist(['wallBehind', 'wallOpposite', 'wallLeft', 'wallRight']),
  distanceM: between(planRange.neighbourM),
  wall: key,
  roof: key,
  door: key,
  doorM2: between(planRange.openingM2),
})

/** Longest text in a box, letters. */
const longestLabel = 200

/** A box whose words are fit to be shown. */
export const plainBox = <B>(box: B): B =>
  JSON.parse(JSON.stringify(box), (_, value) => (typeof value === 'string' ? plainWords(value, longestLabel) : value))

/** A cabinet of the reader's own, so that a plan says all of itself. */
const ownBox = v.pipe(
  v.strictObject({ ...boxEntries, key, name: words(80) }),
  v.rawCheck(({ dataset, addIssue }) => {
    if (!dataset.typed) return
    const { key: _key, ...box } = dataset.value
    try {
      checkRig({ name: 'own', cabinets: [{ ...box, frontCentre: { xM: 0, yM: box.heightM / 2, zM: 0 } }] })
    } catch (error) {
      addIssue({ message: error instanceof Error ? error.message : String(error) })
    }
  }),
  v.transform(plainBox),
)

export const planSchema = v.strictObject({
  version: v.literal(planVersion),
  name: v.pipe(words(60), v.minLength(1)),
  crew: words(80),
  note: words(longestNote),
  ground: groundSchema,
  stage: v.nullable(stage),
  /** Whether people stand before the boxes, who take from the direct sound. Left out where nobody does, so that pages of before read it. */
  crowd: v.exactOptional(v.literal(true)),
  cabinets: v.pipe(v.array(cabinet), v.maxLength(mostCabinets)),
  places: v.pipe(v.array(place), v.minLength(1), v.maxLength(mostPlaces)),
  /** The place that all others are told against: the dance floor. */
  mainPlace: id,
  /** How loud the programme is at that place, dB(A). */
  programmeDbA: between(planRange.programmeDbA),
  neighbour: v.nullable(neighbour),
  ownBoxes: v.pipe(v.array(ownBox), v.maxLength(mostOwnBoxes)),
})

export type Plan = v.InferOutput<typeof planSchema>
export type PlanGround = Plan['ground']
export type PlanHall = Extract<PlanGround, { kind: 'hall' }>
export type PlanCabinet = Plan['cabinets'][number]
export type PlanPlace = Plan['places'][number]
export type PlanStage = NonNullable<Plan['stage']>
export type PlanNeighbour = NonNullable<Plan['neighbour']>
export type PlanOwnBox = Plan['ownBoxes'][number]

/** Outer size of a box. */
export type BoxSize = { widthM: number; heightM: number; depthM: number }

/** What a plan may name: finishes, what walls are made of, and the boxes with their sizes, those of the plan not counted. */
export type PlanKnown = {
  finishes: readonly string[]
  partitions: readonly string[]
  boxes: Readonly<Record<string, BoxSize>>
}
