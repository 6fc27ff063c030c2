import finishes from '../../../content/halls/finishes.json' with { type: 'json' }
import { crowdLossDb, shouldersUnderEarsM } from '../../../src/acoustics/field/crowd.ts'
import { reflectionAt, wallReflection } from '../../../src/acoustics/field/wall-admittance.ts'
import { makeAir } from '../../../src/acoustics/index.ts'
import { type Check, type CheckGroup, setAfter } from '../check.ts'

const handbook = { source: 'ballou-handbook', place: 'text after Equation (7-72), in a public transcription' }

const ends: Check[] = [
  {
    id: 'crowd-level',
    kind: 'outside',
    quantity: 'What an audience takes of direct sound that comes level with it, “up to about 14 dB”',
    unit: 'dB',
    ...handbook,
    input: '0° over the shoulders',
    expected: 14,
    tolerance: 0.5,
    toleranceReason: 'the text has whole decibels',
    computed: () => crowdLossDb(0),
  },
  {
    id: 'crowd-seven-degrees',
    kind: 'outside',
    quantity: 'What an audience takes of direct sound from above it, “less than 1 dB”',
    unit: 'dB',
    ...handbook,
    input: '7° over the shoulders',
    expected: 1,
    relation: 'at most',
    tolerance: 0,
    toleranceReason: 'the text names a limit',
    computed: () => crowdLossDb(7),
  },
]

const air = makeAir()
/** Third octaves in which it was measured. */
const middleHz = [500, 630, 800, 1000, 1250]

/** Level of direct sound and of what a flat plane throws back that takes as much as seated people do, re direct sound, mean square of 500 Hz to 1.5 kHz. */
function overPlaneDb(elevationDeg: number): number {
  const sine = Math.sin((elevationDeg * Math.PI) / 180)
  const lateM = 2 * shouldersUnderEarsM * sine
  const octave = finishes.frequenciesHz.indexOf(1000)
  const absorption = finishes.people['audience-chairs-1-per-m2'].absorption[octave] as number
  const reflection = reflectionAt(wallReflection('absorption', absorption), sine)
  const squares = middleHz.map((frequencyHz) => {
    const phase = (2 * Math.PI * frequencyHz * lateM) / air.speedOfSoundMps
    return 1 + reflection ** 2 + 2 * reflection * Math.cos(phase)
  })
  return -10 * Math.log10(squares.reduce((sum, square) => sum + square, 0) / squares.length)
}

const byPlane: Check[] = [3, 5, 7].map((elevationDeg) => ({
  id: `crowd-plane-${elevationDeg}`,
  kind: 'method',
  quantity:
    'What an audience takes of direct sound, against a flat plane at shoulder height that takes what handbooks give people',
  unit: 'dB',
  source: 'kuttruff-room-acoustics',
  place: 'Equation (2.18), a locally reacting plane, 500 Hz to 1.5 kHz',
  input: `${elevationDeg}° over the shoulders`,
  expected: overPlaneDb(elevationDeg),
  tolerance: 1,
  toleranceReason: `${setAfter}: a crowd is no plane`,
  computed: () => crowdLossDb(elevationDeg),
}))

export const crowdChecks: CheckGroup = { title: 'People before the boxes', checks: [...ends, ...byPlane] }
