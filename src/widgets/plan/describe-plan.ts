import { venueLimitDbA } from '../../acoustics/hearing/exposure.ts'
import type { NeighbourAnswer, PlaceAnswer, PlanAnswer, PlanDip } from '../../engine/questions/plan/plan-terms.ts'
import { cabinetNumber } from '../../state/plan-faults.ts'
import type { Plan } from '../../state/plan-schema.ts'
import type { LengthUnit } from '../../state/preferences.ts'
import { dipFrequencyText, frequencyText } from '../../words/frequencies.ts'
import { lengthText, tapeText } from '../../words/lengths.ts'
import { quieterWords, signedLevelText } from '../../words/levels.ts'
import { percentText, shortText } from '../../words/numbers.ts'
import { durationText } from '../../words/times.ts'
import * as say from './plan.messages.ts'

// What a plan is told in: the sentence, the table of places, the setting sheet, what the client hears.

/** A place with what is said of it, by the names that the plan had when it was asked. */
export type ToldPlace = PlaceAnswer & { name: string }

export const toldPlaces = (answer: PlanAnswer, plan: Plan): ToldPlace[] =>
  answer.places.flatMap((place) => {
    const name = plan.places.find(({ id }) => id === place.id)?.name
    return name === undefined ? [] : [{ ...place, name }]
  })

/** A difference of bass and treble that is heard, dB. */
const heardDb = 3

/** The main place, and the one whose treble falls farthest behind its bass. */
function extremes(answer: PlanAnswer, plan: Plan): { main: ToldPlace | undefined; dullest: ToldPlace | undefined } {
  const places = toldPlaces(answer, plan)
  const main = places.find(({ id }) => id === plan.mainPlace)
  const lackDb = ({ reMain }: ToldPlace) => reMain.bassDb - reMain.trebleDb
  const [dullest] = places.filter(({ id }) => id !== plan.mainPlace).sort((a, b) => lackDb(b) - lackDb(a))
  return { main, dullest }
}

const isDull = ({ reMain }: ToldPlace): boolean => reMain.bassDb - reMain.trebleDb >= heardDb

/** What the sheet shows, in a few words. */
export function planFinding(answer: PlanAnswer, plan: Plan): string {
  const { dullest } = extremes(answer, plan)
  return dullest && isDull(dullest) ? say.finding({ place: dullest.name }) : say.findingEven()
}

/** The same with its numbers. */
export function planSentence(answer: PlanAnswer, plan: Plan): string {
  const { main, dullest } = extremes(answer, plan)
  if (!main) return ''
  if (!dullest) return say.oneSentence({ main: main.name })
  const differences = {
    place: dullest.name,
    main: main.name,
    bass: quieterWords(dullest.reMain.bassDb),
    treble: quieterWords(dullest.reMain.trebleDb),
  }
  if (!main.heard || !dullest.heard) return say.sentenceNoShare(differences)
  const [share, mainShare] = [percentText(dullest.heard.bassShare), percentText(main.heard.bassShare)]
  return say.sentence({ ...differences, share, mainShare })
}

export const placeColumns = [
  say.columnPlace(),
  say.columnBass(),
  say.columnMiddle(),
  say.columnTreble(),
  say.columnA(),
  say.columnC(),
  say.columnShare(),
  say.columnPhons(),
  say.columnDips(),
]

const dipText = (plan: Plan, { frequencyHz, depthDb, cause }: PlanDip): string =>
  say.dip({
    frequency: dipFrequencyText(frequencyHz),
    depth: Math.round(depthDb),
    cause: cause.kind === 'surface' ? cause.surface : cause.kind,
    number: cause.kind === 'box' ? cabinetNumber(plan, cause.id) : 0,
  })

/** One row for each place. */
export const placeRows = (answer: PlanAnswer, plan: Plan): string[][] =>
  toldPlaces(answer, plan).map(({ name, reMain, aWeightedDb, cWeightedDb, heard, dips }) => [
    name,
    signedLevelText(reMain.bassDb),
    signedLevelText(reMain.middleDb),
    signedLevelText(reMain.trebleDb),
    String(Math.round(aWeightedDb)),
    String(Math.round(cWeightedDb)),
    heard ? percentText(heard.bassShare) : say.tooLoud(),
    heard ? String(Math.round(heard.phons)) : say.tooLoud(),
    dips.length > 0 ? dips.map((dip) => dipText(plan, dip)).join('; ') : say.noDips(),
  ])

/** How long one may stay at the loudest places. */
export function exposureWords(answer: PlanAnswer, plan: Plan): string {
  const places = toldPlaces(answer, plan)
  const limited = places
    .filter(({ exposure }) => exposure.hours < 24)
    .sort((a, b) => b.exposure.levelDbA - a.exposure.levelDbA)
    .slice(0, 3)
    .map(({ name, exposure: { levelDbA, hours } }) =>
      say.stay({ place: name, level: levelDbA, time: durationText(hours) }),
    )
  const isOver = places.some(({ exposure }) => exposure.levelDbA > venueLimitDbA)
  if (limited.length === 0) return say.nobodyTooLong()
  return [...limited, ...(isOver ? [say.venueLimit({ limit: venueLimitDbA })] : [])].join(' ')
}

/** What a neighbour gets, in a sentence. */
export function neighbourWords(answer: NeighbourAnswer, plan: Plan, units: LengthUnit): string {
  const { neighbour } = plan
  if (!neighbour) return ''
  const { wall, roof, door } = answer.ways
  const way = door !== null && door > Math.max(wall, roof) ? 'door' : roof > wall ? 'roof' : 'wall'
  return say.neighbourWords({
    name: neighbour.name,
    distance: lengthText(neighbour.distanceM, units),
    a: Math.round(answer.aWeightedDb),
    c: Math.round(answer.cWeightedDb),
    frequency: frequencyText(answer.strongestHz),
    way,
  })
}

/** Three sentences for the client, computed from the plan. */
export function clientSentences(answer: PlanAnswer, plan: Plan, neighbour: NeighbourAnswer | undefined): string[] {
  const { main, dullest } = extremes(answer, plan)
  if (!main) return []
  const first = dullest
    ? isDull(dullest)
      ? say.tellBass({
          place: dullest.name,
          main: main.name,
          bass: quieterWords(dullest.reMain.bassDb),
          treble: quieterWords(dullest.reMain.trebleDb),
        })
      : say.tellEven({ place: dullest.name, main: main.name })
    : say.oneSentence({ main: main.name })
  return [
    first,
    say.tellLevel({ main: main.name, level: Math.round(plan.programmeDbA) }),
    neighbour && plan.neighbour
      ? say.tellNeighbour({ name: plan.neighbour.name, c: Math.round(neighbour.cWeightedDb) })
      : say.tellNoNeighbour(),
  ]
}

export const sheetColumns = ({ ground }: Plan) => [
  say.columnBox(),
  say.columnKind(),
  say.columnAside(),
  say.columnAhead({ hall: ground.kind === 'hall' }),
  say.columnBase(),
  say.columnTurned(),
  say.columnLevel(),
  say.columnDelay(),
  say.columnPolarity(),
]

/** A length to the side, for a tape: '2.50 m left'. */
export const asideText = (xM: number, units: LengthUnit): string => {
  const length = tapeText(Math.abs(xM), units)
  return Math.abs(xM) < 0.005 ? length : xM < 0 ? say.leftOf({ length }) : say.rightOf({ length })
}

/** One row for each box: where it stands and what is set there. */
export const sheetRows = (plan: Plan, nameOf: (box: string) => string, units: LengthUnit): string[][] =>
  plan.cabinets.map(({ box, xM, zM, baseM, yawDeg, levelDb, delayMs, inverted }, index) => [
    String(index + 1),
    nameOf(box),
    asideText(xM, units),
    tapeText(zM, units),
    tapeText(baseM, units),
    `${shortText(yawDeg, 1)}°`,
    signedLevelText(levelDb, 1),
    `${shortText(delayMs, 2)} ms`,
    inverted ? say.inverted() : say.normal(),
  ])
