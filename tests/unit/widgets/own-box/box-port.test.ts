import { safeParse } from 'valibot'
import { expect, test } from 'vitest'
import { solvingPlan } from '../../../../src/engine/solving/solve-table.ts'
import { rigSchema } from '../../../../src/state/rig-schema.ts'
import {
  type BoxDesign,
  boxOfDesign,
  canonicalDesign,
  designOfCabinet,
  plainDriver,
  rigOfDesign,
} from '../../../../src/widgets/own-box/box-design.ts'
import { pipeOf, portOfText, portText, usualPort } from '../../../../src/widgets/own-box/box-port.ts'
import { checkBox } from '../../../../src/widgets/own-box/check-port.ts'
import { portSentence } from '../../../../src/widgets/own-box/describe-own-box.ts'

const size = { widthM: 0.32, heightM: 0.56, depthM: 0.3 }
const cone = { ...plainDriver, diameterM: 0.21, yM: -0.12 }
const horn = { ...plainDriver, kind: 'horn' as const, yM: 0.15, plays: 'high' as const }
const port = { diameterM: 0.1, tuningHz: 52.5, xM: 0.05, yM: 0.1 }
const box: BoxDesign = canonicalDesign({ ...size, twoWay: true, crossoverHz: 1500, drivers: [cone, horn], port })

test('a port stands with the low part, and comes back from a box and from a saved rig', () => {
  const { ways } = boxOfDesign(box)
  expect(ways.map((way) => way.port)).toEqual([port, undefined])
  expect(designOfCabinet(boxOfDesign(box))).toEqual(box)
  const rig = rigOfDesign('mine', box)
  expect(safeParse(rigSchema, JSON.parse(JSON.stringify(rig)))).toMatchObject({ success: true, output: rig })
  const above = boxOfDesign(box)
  above.ways = above.ways.map(({ port: _, ...way }, i) => (i === 1 ? { ...way, port } : way))
  expect(designOfCabinet(above)).toBeUndefined()
})

test('a saved rig with a port off its back or out of tune is refused in words', () => {
  for (const wrong of [{ yM: 0.4 }, { tuningHz: 0 }, { diameterM: -1 }, { colour: 'red' }]) {
    const rig = structuredClone(rigOfDesign('mine', box)) as never as { cabinets: { ways: { port?: object }[] }[] }
    Object.assign(rig.cabinets[0]?.ways[0]?.port ?? {}, wrong)
    expect(safeParse(rigSchema, rig).success, JSON.stringify(wrong)).toBe(false)
  }
})

test('the hole is solved as a way of its own, at the lines of the part that breathes through it and without treble', () => {
  const { ways } = solvingPlan({ rig: rigOfDesign('mine', box), detail: 'onDemand' })
  const { ways: plain } = solvingPlan({
    rig: rigOfDesign('mine', { ...box, port: undefined } as never),
    detail: 'onDemand',
  })
  expect(ways.filter(({ key }) => plain.some((way) => way.key === key))).toEqual(plain)
  const [hole, ...more] = ways.filter(({ key }) => !plain.some((way) => way.key === key))
  expect(more).toEqual([])
  expect(hole?.frequenciesHz).toEqual(plain[0]?.frequenciesHz)
  expect(hole?.directionsHz).toEqual([])
  expect(hole?.cabinet.drivers).toEqual([{ kind: 'piston', radiusM: 0.05, xM: 0.05, yM: 0.1 }])
})

test('a port is one word of a link, and any other text is none', () => {
  expect(portText(port)).toBe('0.1_52.5_0.05_0.1')
  expect(portOfText(portText(port))).toEqual(port)
  expect(portText(undefined)).toBe('')
  expect(portOfText('')).toBeNull()
  for (const text of ['0.1', '0.1_50_0', '0.1_50_0_x', '-0.1_50_0_0', '1e9_50_0_0', '0.1_50_0_0_0', '._50_0_0']) {
    expect(portOfText(text), text).toBeUndefined()
  }
})

test.each([
  [{ diameterM: Number.NaN }, 'port.diameterM', /^Not a length/],
  [{ diameterM: 0.01 }, 'port.diameterM', /^Too small. Allowed: 0.02 m to 0.5 m/],
  [{ diameterM: 0.4, yM: 0 }, 'port.diameterM', /^Too large. Allowed: 0.02 m to 0.32 m/],
  [{ tuningHz: 300 }, 'port.tuningHz', /^Too large. Allowed: 20 Hz to 200 Hz/],
  [{ xM: Number.NaN }, 'port.xM', /^Not a length/],
  [{ xM: -0.15 }, 'port.xM', /^Past the left edge/],
  [{ yM: 0.25 }, 'port.yM', /^Past the top edge/],
])('%j is said beside its field', (wrong, field, said) => {
  const errors = checkBox({ ...box, port: { ...port, ...wrong } }, 'm')
  expect(errors).toEqual({ [field]: expect.stringMatching(said) })
})

test('a port needs a cone that plays low', () => {
  const errors = checkBox(
    {
      ...box,
      drivers: [
        { ...horn, plays: 'low' },
        { ...cone, plays: 'high' },
      ],
    },
    'm',
  )
  expect(errors).toEqual({ 'port.tuningHz': expect.stringContaining('no cone plays below the crossover') })
  expect(checkBox(box, 'm')).toEqual({})
})

test('the port to begin with fits a small box and one whose width is being typed', () => {
  expect(checkBox({ ...box, port: usualPort(size) }, 'm')).toEqual({})
  expect(usualPort({ ...size, widthM: 0.12 }).diameterM).toBe(0.06)
  expect(usualPort({ ...size, widthM: Number.NaN }).diameterM).toBe(0.02)
  expect(pipeOf({ ...box, port: { ...port, tuningHz: Number.NaN } })).toBeUndefined()
  expect(pipeOf(box)?.lengthM).toBeGreaterThan(0.05)
})

test('the sentence names tuning and nearest band, and nothing for a box without a port', () => {
  const band = (nominalHz: number, rearDb: number) =>
    ({ nominalHz, rearDb, model: 'boundary-elements' }) as Parameters<typeof portSentence>[1][number]
  const bands = [band(40, -2), band(50, -1.4), band(63, -1)]
  expect(portSentence(boxOfDesign(box), bands)).toBe(
    'The port in the back, tuned to 52.5 Hz, is counted. Around 50 Hz most of the sound comes out of it, and still the level behind is 1 dB under the front, from far away.',
  )
  const louder = bands.map((each) => ({ ...each, rearDb: 3 }))
  expect(portSentence(boxOfDesign(box), louder)).toContain('and the level behind is 3 dB over the front')
  expect(portSentence({ ...size, ways: [{ name: 'all', drivers: [] }] }, bands)).toBe('')
})
