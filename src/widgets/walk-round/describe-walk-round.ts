import type { WalkAnswer, WallEffect } from '../../engine/questions/walk/walk.ts'
import { trebleHz } from '../../engine/scene/third-octaves.ts'
import type { LengthUnit } from '../../state/preferences.ts'
import { directionWords, placeWord } from '../../words/directions.ts'
import { frequencyText } from '../../words/frequencies.ts'
import { lengthText } from '../../words/lengths.ts'
import { downWords, quieterWords } from '../../words/levels.ts'
import { percentText } from '../../words/numbers.ts'

/** Whether the treble here is an estimate: behind the front face, where the model of the box leaves its trusted range below it. */
export const trebleIsEstimate = (answer: WalkAnswer, angleDeg: number): boolean =>
  Math.abs(angleDeg) > 90 && answer.estimateFromHz <= trebleHz.from

/** The one live sentence: where you are, and what reaches you against the front at the same distance. */
export function walkSentence(answer: WalkAnswer, angleDeg: number, units: LengthUnit): string {
  const place = `You are ${lengthText(answer.distanceM, units)} ${directionWords(angleDeg)} the loudspeaker.`
  const bass = Math.round(answer.bassDb)
  const treble = Math.round(answer.trebleDb)
  if (bass === 0 && treble === 0) return `${place} Bass and treble are as loud as straight in front at this distance.`
  const than = (differenceDb: number) => (Math.round(differenceDb) === 0 ? 'as' : 'than')
  const about = trebleIsEstimate(answer, angleDeg) && treble !== 0 ? 'about ' : ''
  return `${place} Bass is ${quieterWords(bass)} ${than(bass)} at the same distance in front; treble is ${about}${quieterWords(treble)}. ${shareSentence(answer)}`
}

/**
 * What the wall did, in front and here: its deepest cut and its highest lift in the bass. Says nothing of a change that is
 * smaller than 3 dB.
 */
export function wallSentence({ wall }: WalkAnswer, wallM: number, units: LengthUnit): string {
  if (!wall) return ''
  const told = ({ cutHz, cutDb, liftHz, liftDb }: WallEffect) =>
    [
      cutDb <= -2.5 ? `cuts ${frequencyText(Number(cutHz.toPrecision(2)))} by ${Math.round(-cutDb)} dB` : '',
      liftDb >= 2.5 ? `lifts ${frequencyText(Number(liftHz.toPrecision(2)))} by ${Math.round(liftDb)} dB` : '',
    ]
      .filter(Boolean)
      .join(' and ')
  const [front, here] = [told(wall.front), told(wall.here)]
  const start = `The wall ${lengthText(wallM, units)} behind the box`
  if (!front && !here) return `${start} changes no bass by 3 dB or more, here or in front.`
  if (front === here) return `${start} ${front}, here and in front alike.`
  return `${start} ${front ? `${front} in front` : 'changes little in front'}; here it ${here || 'changes little'}.`
}

/** What the hall did to the difference between here and in front, against the same places outdoors. */
export function hallSentence({ bassDb, trebleDb, outdoors }: WalkAnswer): string {
  if (!outdoors) return ''
  const [bass, treble] = [Math.round(bassDb - outdoors.bassDb), Math.round(trebleDb - outdoors.trebleDb)]
  const outdoorsWords = `outdoors, treble here would be ${downWords(outdoors.trebleDb)} and bass ${downWords(outdoors.bassDb)}`
  if (Math.abs(treble) < 2 && Math.abs(bass) < 2)
    return `The hall changes little between the two places: ${outdoorsWords}.`
  if (treble >= 2) return `The hall carries treble to you: ${outdoorsWords}.`
  return `The hall changes the bass between the two places by ${Math.abs(bass)} dB: ${outdoorsWords}.`
}

/** How much of the loudness is bass here and in front; "yet" only where the bass is quieter and its share larger all the same. */
export function shareSentence({ bassDb, heard: { here, front } }: Pick<WalkAnswer, 'bassDb' | 'heard'>): string {
  const [shareHere, shareFront] = [percentText(here.bassShare), percentText(front.bassShare)]
  if (shareHere === shareFront) return `Bass makes ${shareHere} of the loudness, as in front.`
  if (here.bassShare < front.bassShare)
    return `Bass makes only ${shareHere} of the loudness here, ${shareFront} in front.`
  return `${Math.round(bassDb) < 0 ? 'Yet bass' : 'Bass'} makes ${shareHere} of the loudness here, ${shareFront} in front.`
}

/** What the lines show, in a few words: 'Behind: bass 2 dB down, treble 23 dB down'. */
export function differenceWords(answer: WalkAnswer, angleDeg: number): string {
  const word = { front: 'Here', side: 'Beside', behind: 'Behind' }[placeWord(angleDeg)]
  const about = trebleIsEstimate(answer, angleDeg) ? 'about ' : ''
  return `${word}: bass ${downWords(answer.bassDb)}, treble ${about}${downWords(answer.trebleDb)}`
}

/** What the choice of the measuring point changes, with numbers. */
export function datumSentence(answer: WalkAnswer, datum: 'front-face' | 'nearest-face', units: LengthUnit): string {
  const nearest = datum === 'nearest-face' ? answer : answer.byOtherDatum
  const front = datum === 'front-face' ? answer : answer.byOtherDatum
  const same = Math.round(nearest.bassDb) === Math.round(front.bassDb)
  const here = `This place is ${lengthText(front.distanceM, units)} from the front face and ${lengthText(nearest.distanceM, units)} from the nearest face.`
  const path = Math.abs(nearest.pathDb) < 0.05 ? '0' : Math.abs(nearest.pathDb).toFixed(1)
  const levels = same
    ? `By either measure, bass here is ${downWords(front.bassDb)}.`
    : `Measured from the front face bass here is ${downWords(front.bassDb)}; from the nearest face, ${downWords(nearest.bassDb)}.`
  return `${here} ${levels} With equal distances from the nearest face, ${path} dB of the difference, in every band, is only the longer way from the front face.`
}
