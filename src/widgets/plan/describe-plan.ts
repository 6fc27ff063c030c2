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
import { placeChange, tellingPlace } from './place-change.ts'
import * as say from './plan.messages.ts'

// What a plan is told in: the sentence, the table of places, the setting sheet, what the client hears.

/** A place with what is said of it, by the names that the plan had when it was asked. */
export type ToldPlace = PlaceAnswer & { name: string }

export const toldPlaces = (answer: PlanAnswer, plan: Plan): ToldPlace[] =>
  answer.places.flatMap((place) => {
    const name = plan.places.find(({ id }) => id === place.id)?.name
    return name === undefined ? [] : [{ ...place, name }]
  })

/** The main place, the others, and the one of them to tell of. */
function mainAndOther(answer: PlanAnswer, plan: Plan) {
  const places = toldPlaces(answer, plan)
  const main = places.find(({ id }) => id === plan.mainPlace)
  const others = places.filter(({ id }) => id !== plan.mainPlace)
  return { main, others, other: tellingPlace(others) }
}

/** What the sheet shows, in a few words. */
export function planFinding(answer: PlanAnswer, plan: Plan): string {
  const { other } = mainAndOther(answer, plan)
  return other ? say.finding({ place: other.name, change: placeChange(other.reMain) }) : plan.name
}

/** The same with its numbers. */
export function planSentence(answer: PlanAnswer, plan: Plan): string {
  const { main, other } = mainAndOther(answer, plan)
  if (!main) return ''
  if (!other) return say.oneSentence({ main: main.name })
  const differences = differencesOf(other, main)
  if (!main.heard || !other.heard) return say.sentenceNoShare(differences)
  const [share, mainShare] = [percentText(other.heard.bassShare), percentText(main.heard.bassShare)]
  return say.sentence({ ...differences, share, mainShare })
}

const differencesOf = ({ name, reMain }: ToldPlace, main: ToldPlace) => ({
  place: name,
  main: main.name,
  bass: quieterWords(reMain.bassDb),
  treble: quieterWords(reMain.trebleDb),
})

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
    cause: cause.kind !== 'surface' ? cause.kind : plan.ground.kind === 'hall' ? cause.surface : 'ground',
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

/** Three sentences for the client, computed from the plan; one more where another place really has more bass. */
export function clientSentences(answer: PlanAnswer, plan: Plan, neighbour: NeighbourAnswer | undefined): string[] {
  const { main, others, other } = mainAndOther(answer, plan)
  if (!main) return []
  const tell = (place: ToldPlace) => {
    const change = placeChange(place.reMain)
    return change === 'as'
      ? say.tellAs({ place: place.name, main: main.name })
      : say.tellDifferent({ ...differencesOf(place, main), why: say.tellWhy({ change }) })
  }
  const boomiest = others
    .filter((place) => place !== other && ['more', 'both'].includes(placeChange(place.reMain)))
    .sort((a, b) => b.reMain.bassDb - a.reMain.bassDb)
    .slice(0, 1)
  return [
    other ? tell(other) : say.oneSentence({ main: main.name }),
    ...boomiest.map(tell),
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
