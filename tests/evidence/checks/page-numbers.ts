import { readFileSync } from 'node:fs'
import columnOnBase from '../../../content/gear/column-on-base.json' with { type: 'json' }
import compactTwoWay from '../../../content/gear/compact-two-way.json' with { type: 'json' }
import topOverSub from '../../../content/gear/top-over-sub.json' with { type: 'json' }
import type { Cabinet, Rig } from '../../../src/acoustics/index.ts'
import { cabinetShadowHz } from '../../../src/engine/questions/box/box-and-wave.ts'
import { boxBandLevels, rearDownHz, shadowDropDb } from '../../../src/engine/questions/box/box-pattern.ts'
import { demoBoxPattern } from '../../../src/engine/questions/box/demo-box-pattern.ts'
import { columnFacts } from '../../../src/engine/questions/column/column-facts.ts'
import type { Fact } from '../../../src/engine/questions/fact.ts'
import { hornFacts } from '../../../src/engine/questions/horn/horn-facts.ts'
import { ownBoxBand } from '../../../src/engine/questions/own-box/own-box.ts'
import { type OwnBox, wrapAnswer } from '../../../src/engine/questions/own-box/own-box-terms.ts'
import { laneFacts } from '../../../src/engine/questions/steer/place-facts.ts'
import { steerAnswer } from '../../../src/engine/questions/steer/steer.ts'
import { lessonCase, lessonSet } from '../../../src/engine/questions/steer/steer-lesson.ts'
import { dropsBehind } from '../../../src/engine/questions/walk/walk-facts.ts'
import { wallFacts } from '../../../src/engine/questions/wall/wall-facts.ts'
import { addSolvedCabinets } from '../../../src/engine/scene/solved-gear.ts'
import type { Check, CheckGroup } from '../check.ts'
import boxes from '../reference/page-boxes.json' with { type: 'json' }
import digits from '../reference/page-digits.json' with { type: 'json' }

const rigs = [topOverSub, columnOnBase, compactTwoWay] as unknown as (Rig & {
  name: keyof typeof boxes.rigs
  title: string
})[]
const rigOf = (name: keyof typeof boxes.rigs) => rigs.find((rig) => rig.name === name) as (typeof rigs)[number]

/** What a rig's solved cabinets are needed for. */
function solved<T>(rig: (typeof rigs)[number], compute: (rig: Rig) => T): T {
  addSolvedCabinets(readFileSync(`content/gear/solved/${rig.name}.bin`))
  return compute(rig)
}

const byBoxes = {
  kind: 'method' as const,
  source: 'numpy',
  place:
    'page-boxes.py beside its digits: pistons on rigid boxes by collocation with closed-form solid angles, images, crossovers',
}
const byDigits = { kind: 'method' as const, source: 'numpy', place: 'page-digits.py beside its digits' }

/** 0.1 dB is what is left of our mesh; the rest is how far two meshes of the other program are apart. */
const meshes = (scatter: number, ourDb = 0.1) => ({
  tolerance: ourDb + scatter,
  toleranceReason: `0.1 dB is left of our mesh at 20 panels a wavelength; ${scatter} is between two meshes of the other program`,
})

const behindChecks: Check[] = rigs.flatMap((rig): Check[] => {
  const { value, scatter } = boxes.rigs[rig.name]
  const shared = { ...byBoxes, unit: 'dB' }
  return [
    {
      ...shared,
      id: `page-bass-behind-${rig.name}`,
      quantity: `${rig.title}: bass behind under bass in front, free air`,
      input: '40 to 160 Hz, pink noise, 2 m from the front face, ears 1.6 m up',
      expected: value.free2M,
      ...meshes(scatter.free2M),
      computed: () => solved(rig, () => dropsBehind(rig, 2).bass),
    },
    {
      ...shared,
      id: `page-bass-behind-outdoors-${rig.name}`,
      quantity: `${rig.title}: bass behind under bass in front, on hard ground`,
      input: '40 to 160 Hz, pink noise, 2.5 m from the front face, ears 1.6 m up',
      expected: value.ground2p5M,
      ...meshes(scatter.ground2p5M),
      computed: () => solved(rig, () => dropsBehind(rig, 2.5, { kind: 'outdoors', floor: 'hard' }).bass),
    },
  ]
})

const wallChecks: Check[] = rigs.flatMap((rig): Check[] => {
  const { value, scatter } = boxes.rigs[rig.name]
  const fact = (name: keyof ReturnType<typeof wallFacts>) => () => solved(rig, () => wallFacts(rig)[name].value)
  const shared = {
    ...byBoxes,
    input: 'hard wall 1.7 m behind the front face; 1.4 m in front of it, and 0.3 m off the wall',
  }
  return [
    ...(rig === topOverSub
      ? [
          {
            ...shared,
            id: `page-wall-more-behind-to-${rig.name}`,
            quantity: `${rig.title} before a wall: up to where, from 25 Hz, the place behind has the stronger bass`,
            unit: 'Hz',
            expected: value.wall.toHz,
            tolerance: 1.2 + scatter.wall.toHz,
            toleranceReason:
              '0.1 dB of our mesh where the difference falls by 0.08 dB a hertz; and what is between two meshes of the other program',
            computed: fact('more-to'),
          },
        ]
      : []),
    {
      ...shared,
      id: `page-wall-more-behind-at-dip-${rig.name}`,
      quantity: `${rig.title} before a wall: how much more there is behind at 50 Hz, where the rule puts the dip`,
      unit: 'dB',
      expected: value.wall.at50HzDb,
      ...meshes(scatter.wall.at50HzDb),
      computed: fact('more-at-dip'),
    },
    {
      ...shared,
      id: `page-wall-apart-at-rise-${rig.name}`,
      quantity: `${rig.title} before a wall: how far behind and front are apart at 100 Hz, where the rule puts the rise`,
      unit: 'dB',
      expected: Math.abs(value.wall.at100HzDb),
      ...meshes(scatter.wall.at100HzDb),
      computed: fact('apart-at-rise'),
    },
  ]
})

const coned = (name: 'top' | 'sub'): Cabinet => {
  const { widthM, heightM, depthM, ways } = rigOf('top-over-sub').cabinets.find(
    (one) => one.name === name,
  ) as Rig['cabinets'][number]
  return {
    widthM,
    heightM,
    depthM,
    drivers: ways.flatMap(({ drivers }) => drivers.filter(({ kind }) => kind === 'piston')),
  }
}
const shadow = (
  id: string,
  quantity: string,
  box: 'lesson' | 'top' | 'sub',
  ourHz: number,
  computed: () => number,
): Check => ({
  ...byBoxes,
  id: `page-shadow-${id}`,
  quantity,
  unit: 'Hz',
  input: 'far away, one cone',
  expected: boxes.shadowHz.value[box],
  tolerance: ourHz + boxes.shadowHz.scatter[box],
  toleranceReason: `${ourHz} Hz is 0.1 dB of our mesh by the slope there; the rest is between two meshes of the other program`,
  computed,
})
const shadowChecks: Check[] = [
  shadow('lesson', 'Box of lesson 2, 0.5 m wide: rear 6 dB under the front', 'lesson', 3, () =>
    rearDownHz(demoBoxPattern, 0.5, shadowDropDb),
  ),
  shadow('top', 'Demo top, its cone where it is: rear 6 dB under the front', 'top', 4, () =>
    cabinetShadowHz(coned('top')),
  ),
  shadow('sub', 'Demo sub: rear 6 dB under the front', 'sub', 3, () => cabinetShadowHz(coned('sub'))),
  {
    ...shadow(
      'own-box',
      'Demo top as an own box, read between third octaves: rear 6 dB under the front',
      'top',
      4,
      () => {
        const box = rigOf('top-over-sub').cabinets.find(({ name }) => name === 'top') as OwnBox
        const bands = [250, 315, 400, 500].map((nominalHz) => ownBoxBand({ box, nominalHz, solved: true }))
        return wrapAnswer(bands, box.widthM).computedHz as number
      },
    ),
    tolerance: 5,
    toleranceReason: 'the page prints it to 10 Hz',
  },
]

const bandChecks: Check[] = (['1000', '1250'] as const).flatMap((nominal) =>
  (['sideDb', 'rearDb'] as const).map((direction): Check => {
    const [value, scatter] = [boxes.lessonBands.value[nominal], boxes.lessonBands.scatter[nominal]]
    const stepDb = Math.abs(value[direction] - value[direction === 'sideDb' ? 'sideTableDb' : 'rearTableDb'])
    return {
      ...byBoxes,
      id: `page-box-band-${direction === 'sideDb' ? 'side' : 'rear'}-${nominal}`,
      quantity: `Box of lesson 2, ${direction === 'sideDb' ? 'beside' : 'behind'} re the front, third octave`,
      unit: 'dB',
      input: `${nominal} Hz, 0.5 m wide, mean of the power over the band`,
      expected: value[direction],
      tolerance: 0.1 + scatter[direction] + stepDb,
      toleranceReason: `0.1 dB is left of our mesh; ${scatter[direction]} dB is between two meshes of the other program, and ${stepDb.toFixed(2)} dB is what it loses itself when it knows twelve lines an octave, as our table does`,
      computed: () => boxBandLevels(demoBoxPattern, 0.5, Number(nominal))[direction],
    }
  }),
)

let known: ReturnType<typeof hornFacts> | undefined
const hornFact = (name: keyof ReturnType<typeof hornFacts>) => () => {
  known ??= hornFacts()
  return known[name].value
}
const horn = (
  name: keyof ReturnType<typeof hornFacts>,
  quantity: string,
  unit: '°' | 'Hz',
  expected: number,
): Check => ({
  ...byDigits,
  id: `page-horn-${name}`,
  quantity: `Demo horn, ${quantity}`,
  unit,
  input: name.endsWith('upright') ? '60°, mouth 0.17 m high' : '90°, mouth 0.26 m wide',
  expected,
  ...(unit === '°'
    ? { tolerance: 1, toleranceReason: 'the page prints whole degrees; the curve is read on lines of 1/24 octave' }
    : {
        tolerance: 0.01 * expected,
        toleranceReason: 'read on a straight line between lines 3 % apart: a third of a step',
      }),
  computed: hornFact(name),
})
const { across, up } = digits.horn
const hornChecks: Check[] = [
  horn('crossover-angle', 'beam at its crossover of 1.8 kHz', '°', across.at1800HzDeg),
  horn('waist-angle', 'beam at its narrowest, near 2 kHz', '°', across.at2000HzDeg),
  horn('narrow-to', 'from where its beam is within a fifth of the label', 'Hz', across.narrowToHz),
  horn('widest-angle', 'widest beam above that, to 16 kHz', '°', across.widestAbove2200HzDeg),
  horn('crossover-angle-upright', 'up and down, beam at its crossover', '°', up.at1800HzDeg),
  horn('narrow-from-upright', 'up and down, where its beam gets too narrow', 'Hz', up.narrowFromHz),
  horn('waist-angle-upright', 'up and down, beam at its narrowest', '°', up.narrowestDeg),
  horn('narrow-to-upright', 'up and down, from where it is within a fifth of the label again', 'Hz', up.narrowToHz),
]

const pairOfPoints = (frequencyHz: number) => {
  const set = { ...lessonSet, arrangement: 'left-right', spacingM: 6, delayS: 0, inverted: false } as const
  const { lanes } = steerAnswer({ ...lessonCase(rigOf('top-over-sub')), point: true, set, frequencyHz })
  const first = (offsetsM: number[] = []) => Math.min(...offsetsM.filter((offsetM) => offsetM > 0.01))
  return { weakM: first(lanes?.weakM), peakM: first(lanes?.strongM) }
}
const laneChecks: Check[] = ([63, 80] as const).flatMap((frequencyHz) =>
  (['weakM', 'peakM'] as const).map(
    (kind): Check => ({
      ...byDigits,
      id: `page-lane-${kind === 'weakM' ? 'weak' : 'peak'}-${frequencyHz}`,
      quantity: `Two points left and right on hard ground: first ${kind === 'weakM' ? 'weakest place' : 'peak'} beside the middle`,
      unit: 'm',
      input: `${frequencyHz} Hz, 6 m apart, 5 m in front, ears 1.6 m up`,
      expected: digits.lanes[frequencyHz][kind],
      tolerance: 0.01,
      toleranceReason: 'found in steps of 5 cm, closer by a parabola: a fifth of a step',
      computed: () => pairOfPoints(frequencyHz)[kind],
    }),
  ),
)
const inStep: Check = {
  ...byDigits,
  id: 'page-lane-in-step-63',
  quantity: 'Two subs left and right: where one way is a whole wave longer',
  unit: 'm',
  input: '63 Hz, 6 m apart, 5 m in front, ears 1.6 m up',
  expected: digits.lanes['63'].inStepM,
  tolerance: 1e-6,
  toleranceReason: 'closed form against a search to 1e-9 m',
  computed: () => solved(rigOf('top-over-sub'), (rig) => laneFacts(lessonCase(rig))['lane-in-step-63'].value),
}

const lessonColumn = { count: digits.row.count, spacingM: digits.row.spacingM, heightM: 1.6, tiltRad: 0 }
const columnFact = (name: 'further-beam-from-hz' | 'nearly-further-beam-up') => () =>
  (columnFacts(lessonColumn)[name] as Fact).value
const rowChecks: Check[] = [
  {
    ...byDigits,
    id: 'page-row-nearly-further-beam',
    quantity: 'Row of eight points 0.95 of a wave apart: how far it is down straight up',
    unit: 'dB',
    input: 'sum of eight phases',
    expected: -digits.row.upAt095Db,
    tolerance: 1e-6,
    toleranceReason: 'closed form against the sum; rounding only',
    computed: columnFact('nearly-further-beam-up'),
  },
  {
    ...byDigits,
    id: 'page-row-further-beam-begins',
    quantity: 'Row of eight points 0.1125 m apart: last null straight up before the further beam',
    unit: 'Hz',
    input: 'searched between 2.5 and 2.8 kHz',
    expected: digits.row.firstNullUpHz,
    tolerance: 1e-6,
    toleranceReason: 'closed form against a search; rounding only',
    computed: columnFact('further-beam-from-hz'),
  },
]

/** Numbers that pages print and that no check of a single function would have caught. */
export const pageNumberChecks: CheckGroup = {
  title: 'Numbers of the pages: behind boxes, before a wall, horns, rows and lanes',
  checks: [
    ...behindChecks,
    ...wallChecks,
    ...shadowChecks,
    ...bandChecks,
    ...hornChecks,
    ...laneChecks,
    inStep,
    ...rowChecks,
  ],
}
