import * as v from 'valibot'
import type { CompareQuestion, LevelSource, SourcePair } from '../../engine/questions/compare/compare-terms.ts'
import { practiceNames } from '../../engine/questions/compare/practice-terms.ts'
import type { BoxOrHallQuestion } from '../../engine/questions/compare/sweep-terms.ts'
import { inTurn } from '../../state/in-turn.ts'
import { keepForGood } from '../../state/keep-for-good.ts'
import { keepText, onKeptChange, storedText, versionedJson } from '../../state/kept-text.ts'
import { issueWords } from '../../state/schema-words.ts'
import { bandCount, bandEstimates, estimate, finite, level, positive } from './kept-levels.ts'
import { sweepSchema, sweptPair } from './kept-sweep.ts'
import * as say from './kept-test.messages.ts'

// A whole test as it is kept on the device and written to a file: levels, geometry and what was left out, never the sound.

const key = 'round-the-back.compare'
/** Version of the stored form and of the file: 1 had no files of microphones, 2 no sweeps. */
const version = 3
/** No honest file of three steps is longer, characters. */
const longestFile = 3_000_000

export const stepNames = ['match', 'quiet', 'sound'] as const
export type StepName = (typeof stepNames)[number]
/** A step of the test, or the sweeps that may follow it. */
export type PartName = StepName | 'sweep'
export type PlaceName = 'front' | 'behind'
/** Both places at once, or one of them. */
export type Wanted = 'both' | PlaceName

const confidence = v.object({
  widest: v.nullable(v.object({ halfDb: positive, nominalHz: positive })),
  isEnough: v.boolean(),
  furtherS: v.nullable(positive),
})
const channel = v.object({
  levels: bandEstimates,
  detail: v.pipe(v.array(v.nullable(estimate)), v.maxLength(1000)),
  aWeightedDb: v.nullable(level),
  cWeightedDb: v.nullable(level),
  peak: positive,
  confidence,
})
const take = v.object({
  sampleRateHz: positive,
  durationS: positive,
  keptS: positive,
  channels: v.pipe(v.array(channel), v.minLength(1), v.maxLength(2)),
  paired: v.nullable(bandEstimates),
  faults: v.pipe(
    v.array(
      v.object({
        kind: v.picklist(['talking', 'bang', 'clipped', 'gap', 'step', 'trend']),
        channel: v.pipe(v.number(), v.integer(), v.minValue(0), v.maxValue(1)),
        fromS: positive,
        toS: positive,
        amountDb: level,
      }),
    ),
    v.maxLength(5000),
  ),
  clippedSamples: positive,
})
const part = v.variant('kind', [
  v.object({ kind: v.literal('take'), name: v.string(), take: v.picklist([0, 1]), channel: v.picklist([0, 1]) }),
  v.object({
    kind: v.literal('entered'),
    name: v.string(),
    levelsDb: v.pipe(v.array(v.nullable(level)), v.length(bandCount)),
  }),
])
const step = v.object({
  takes: v.pipe(v.array(take), v.maxLength(2)),
  front: v.nullable(part),
  behind: v.nullable(part),
  skipped: v.boolean(),
  practice: v.nullable(v.picklist(practiceNames)),
})
const distance = v.pipe(finite, v.minValue(0.1), v.maxValue(1000))
const length = v.nullable(v.pipe(finite, v.minValue(0), v.maxValue(1000)))
const setUp = v.object({
  frontM: distance,
  behindM: distance,
  boxDepthM: length,
  sourceHeightM: length,
  frontHeightM: length,
  behindHeightM: length,
  walls: v.picklist(['unsaid', 'none', 'some', 'unknown']),
  wallBehindM: length,
  wallFrontM: length,
  wallBesideM: length,
  bringTogether: v.boolean(),
})
const frequency = v.pipe(finite, v.minValue(0.1), v.maxValue(1_000_000))
/** No file that is taken has more rows. */
const mostRows = 100_000
const rows = <T extends typeof frequency | typeof level>(item: T) =>
  v.pipe(v.array(item), v.minLength(2), v.maxLength(mostRows))
const microphone = v.pipe(
  v.object({ name: v.string(), frequenciesHz: rows(frequency), levelsDb: rows(level) }),
  v.check(({ frequenciesHz, levelsDb }) => frequenciesHz.length === levelsDb.length, say.unevenFile()),
  v.check(
    ({ frequenciesHz }) => frequenciesHz.every((each, at) => at === 0 || each > (frequenciesHz[at - 1] ?? 0)),
    say.unevenFile(),
  ),
)
const steps = v.object({ match: step, quiet: step, sound: step })
const withoutFiles = { steps, setUp }
/** The files of the two microphones. */
const withFiles = {
  ...withoutFiles,
  microphones: v.object({ front: v.nullable(microphone), behind: v.nullable(microphone) }),
}
const test = v.object({ version: v.literal(version), ...withFiles, sweep: v.optional(sweepSchema) })
/** The form of each version, from the first. */
const forms = [v.object(withoutFiles), v.object(withFiles), test] as const

export type KeptPart = v.InferOutput<typeof part>
export type KeptStep = v.InferOutput<typeof step>
export type SetUp = v.InferOutput<typeof setUp>
export type KeptMicrophone = v.InferOutput<typeof microphone>
export type KeptTest = v.InferOutput<typeof test>

const emptyStep = (): KeptStep => ({ takes: [], front: null, behind: null, skipped: false, practice: null })

/** A test of which nothing has been done: both microphones as far from the front as the page asks for. */
export const emptyTest = (): KeptTest => ({
  version,
  steps: { match: emptyStep(), quiet: emptyStep(), sound: emptyStep() },
  setUp: {
    frontM: 2.5,
    behindM: 2.5,
    boxDepthM: null,
    sourceHeightM: null,
    frontHeightM: null,
    behindHeightM: null,
    walls: 'unsaid',
    wallBehindM: null,
    wallFrontM: null,
    wallBesideM: null,
    bringTogether: false,
  },
  microphones: { front: null, behind: null },
})

/** Whether a step has been done, or passed over. */
export const isDone = ({ front, behind, skipped }: KeptStep): boolean => skipped || (front !== null && behind !== null)

/** A step with one place measured anew; takes that no place needs any more go. */
export function withPart(step: KeptStep, place: PlaceName, name: string, source: LevelSource): KeptStep {
  const places = { ...sourcesOf(step), [place]: { name, source } }
  const takes: KeptStep['takes'] = []
  const partOf = (given: { name: string; source: LevelSource } | undefined): KeptPart | null => {
    if (!given) return null
    if (given.source.kind === 'entered') return { kind: 'entered', name: given.name, levelsDb: given.source.levelsDb }
    const { take, channel } = given.source
    if (!takes.includes(take)) takes.push(take)
    return { kind: 'take', name: given.name, take: takes.indexOf(take) as 0 | 1, channel: channel as 0 | 1 }
  }
  const [front, behind] = [partOf(places.front), partOf(places.behind)]
  return { takes, front, behind, skipped: false, practice: null }
}

/** A step with both places measured at once. */
export const withBoth = (name: string, front: LevelSource, behind: LevelSource): KeptStep =>
  withPart(withPart(emptyStep(), 'front', name, front), 'behind', name, behind)

export const skippedStep = (): KeptStep => ({ ...emptyStep(), skipped: true })

type Sources = Partial<Record<PlaceName, { name: string; source: LevelSource }>>

function sourcesOf({ takes, front, behind }: KeptStep): Sources {
  const sourceOf = (kept: KeptPart | null): Sources['front'] => {
    if (!kept) return undefined
    if (kept.kind === 'entered') return { name: kept.name, source: { kind: 'entered', levelsDb: kept.levelsDb } }
    const take = takes[kept.take]
    return take && { name: kept.name, source: { kind: 'take', take, channel: kept.channel } }
  }
  const [first, second] = [sourceOf(front), sourceOf(behind)]
  return { ...(first && { front: first }), ...(second && { behind: second }) }
}

/** Both places of a step; undefined while one is missing, or it was passed over. */
export function pairOf(step: KeptStep): SourcePair | undefined {
  const { front, behind } = sourcesOf(step)
  return front && behind && !step.skipped ? { front: front.source, behind: behind.source } : undefined
}

/** What is asked of the engine once both places were measured. */
export function questionOf({ steps, setUp, microphones }: KeptTest, frontDbA: number): CompareQuestion | undefined {
  const sound = pairOf(steps.sound)
  if (!sound) return undefined
  const quiet = pairOf(steps.quiet)
  const given = <N extends string>(name: N, lengthM: number | null) =>
    (lengthM === null ? {} : { [name]: lengthM }) as { [K in N]?: number }
  const some = setUp.walls === 'some'
  const beside = given('wallBesideM', some ? setUp.wallBesideM : null)
  return {
    ...sound,
    ...microphonesOf({ steps, microphones }),
    ...(quiet && { quiet }),
    geometry: {
      ...given('sourceHeightM', setUp.sourceHeightM),
      ...given('boxDepthM', setUp.boxDepthM),
      front: {
        distanceM: setUp.frontM,
        ...given('heightM', setUp.frontHeightM),
        ...given('wallBeyondM', some ? setUp.wallFrontM : null),
        ...beside,
      },
      behind: {
        distanceM: setUp.behindM,
        ...given('heightM', setUp.behindHeightM),
        ...given('wallBeyondM', some ? setUp.wallBehindM : null),
        ...beside,
      },
    },
    wallsAreEntered: areWallsEntered(setUp),
    bringTogether: setUp.bringTogether,
    frontDbA,
  }
}

/** What is known of the two microphones: how they differ side by side, and their files. */
function microphonesOf({
  steps,
  microphones,
}: Pick<KeptTest, 'steps' | 'microphones'>): Pick<CompareQuestion, 'match' | 'microphones'> {
  const match = pairOf(steps.match)
  const responseOf = (place: PlaceName) => {
    const kept = microphones[place]
    return kept ? { [place]: { frequenciesHz: kept.frequenciesHz, levelsDb: kept.levelsDb } } : {}
  }
  return {
    ...(match && { match }),
    ...((microphones.front || microphones.behind) && {
      microphones: { ...responseOf('front'), ...responseOf('behind') },
    }),
  }
}

/** What is asked of the engine once the sweeps were measured at both places. */
export function boxOrHallQuestionOf({ steps, microphones, sweep }: KeptTest): BoxOrHallQuestion | undefined {
  const pair = sweptPair(sweep)
  return pair && { ...pair, ...microphonesOf({ steps, microphones }) }
}

/** Whether the reader has said that there is no wall near, or where there are some. */
export const areWallsEntered = ({ walls, wallBehindM, wallFrontM, wallBesideM }: SetUp): boolean =>
  walls === 'none' || (walls === 'some' && [wallBehindM, wallFrontM, wallBesideM].some((lengthM) => lengthM !== null))

/** A test out of the text of a file, or in words why it cannot be read. */
export function readTest(text: string): KeptTest | string {
  if (text.length > longestFile) return say.tooLong()
  const json = versionedJson(text, version)
  if (typeof json === 'string') return { notJson: say.notJson, noVersion: say.noVersion, newer: say.newer }[json]()
  const read = v.safeParse(forms[json.version - 1] ?? test, json.value)
  if (!read.success) return say.wrong({ reason: issueWords(read.issues[0]) })
  const kept: KeptTest = { microphones: emptyTest().microphones, ...read.output, version }
  const missing = stepNames.find((name) => !hasItsTakes(kept.steps[name]))
  return missing ? say.lacksTake() : kept
}

/** Whether every part that names a channel of a take finds it. */
const hasItsTakes = ({ takes, front, behind }: KeptStep): boolean =>
  [front, behind].every((kept) => kept?.kind !== 'take' || takes[kept.take]?.channels[kept.channel] !== undefined)

/** A test as the text of one file. */
export const writeTest = (kept: KeptTest): string => JSON.stringify(kept)

/** What the device keeps; an empty test and why, if that cannot be read. Never throws. */
export function keptTest(): { test: KeptTest; problem: string } {
  const text = storedText(key) ?? null
  if (text === null) return { test: emptyTest(), problem: '' }
  const read = readTest(text)
  return typeof read === 'string'
    ? { test: emptyTest(), problem: say.unread({ reason: read }) }
    : { test: read, problem: '' }
}

/**
 * Changes the test that the device keeps, in turn with other tabs: what they have measured meanwhile stays. Never rejects.
 *
 * @param shown   what this page shows, for a browser that keeps nothing
 * @param change  gives the test as it is to be
 * @returns       the test as it now is, and why it is not kept, or ''
 */
export function changeTest(
  shown: KeptTest,
  change: (before: KeptTest) => KeptTest,
): Promise<{ test: KeptTest; problem: string }> {
  return inTurn(key, () => {
    const text = storedText(key) ?? null
    const stored = text === null ? undefined : readTest(text)
    const changed = change(stored === undefined || typeof stored === 'string' ? shown : stored)
    const failed = keepText(key, writeTest(changed), typeof stored === 'string' ? text : null)
    if (!failed) keepForGood()
    return { test: changed, problem: failed && say.notKept() }
  })
}

/** Calls back when another tab has changed the test; returns the function that ends it. */
export const onTestChange = (listener: () => void): (() => void) => onKeptChange(key, listener)
