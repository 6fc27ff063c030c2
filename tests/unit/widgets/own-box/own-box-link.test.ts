import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { readLink, writeLink } from '../../../../src/state/share-link.ts'
import {
  type BoxDesign,
  type BoxDriver,
  canonicalDesign,
  designOfCabinet,
  plainDriver,
} from '../../../../src/widgets/own-box/box-design.ts'
import {
  driversOfText,
  driversText,
  fineOfText,
  fineText,
  type OwnBoxLinkState,
  ownBoxLink,
} from '../../../../src/widgets/own-box/own-box-link.ts'

const gear = JSON.parse(readFileSync(join(import.meta.dirname, '../../../../content/gear/top-over-sub.json'), 'utf8'))
const start = canonicalDesign(designOfCabinet(gear.cabinets[0]) as BoxDesign)
const link = ownBoxLink(start)
const horn: BoxDriver = {
  ...plainDriver,
  kind: 'horn',
  mouthWidthM: 0.3175,
  mouthHeightM: 0.1778,
  horizontalDeg: 112.5,
  verticalDeg: 62.5,
  xM: -0.1016,
  yM: -0.1016,
  plays: 'high',
}

const tuned: BoxDriver = { ...horn, levelDb: -12.75, delayMs: 10.125, inverted: true }

test('the four longest drivers fit into a link as they stand and come back', () => {
  const state: OwnBoxLinkState = {
    widthM: 0.3175,
    heightM: 2,
    depthM: 0.05,
    crossoverHz: 950,
    drivers: driversText([horn, horn, horn, horn]),
    fine: fineText([tuned, horn, tuned, horn]),
    port: '0.1524_52.5_-0.0762_-0.2032',
    stands: 'floor',
    bandHz: 31.5,
    front: 'as-radiated',
    units: 'ft',
  }
  const params = writeLink(link, state, new URLSearchParams())
  expect(params.toString()).not.toContain('%')
  expect(readLink(link, new URLSearchParams(params.toString()))).toMatchObject({ state, dropped: [] })
  expect(driversOfText(state.drivers)).toEqual([horn, horn, horn, horn])
})

test('fine settings come back in the order of the drivers, and are no part of a link without them', () => {
  expect(fineText([horn, horn])).toBe('')
  expect(fineOfText('')).toEqual([])
  expect(fineText([horn, tuned])).toBe('0_0_n*-12.75_10.125_i')
  expect(fineOfText(fineText([horn, tuned]))).toEqual(
    [horn, tuned].map(({ levelDb, delayMs, inverted }) => ({ levelDb, delayMs, inverted })),
  )
})

test('a link of version 1, which had no fine settings, still opens', () => {
  const { state, dropped } = readLink(
    link,
    new URLSearchParams('box.v=1&box.widthM=0.4&box.crossoverHz=0&box.drivers=c_0.21_0_-0.1_low'),
  )
  expect(dropped).toEqual([])
  expect([state.widthM, state.crossoverHz, state.fine]).toEqual([0.4, 0, ''])
  expect(driversOfText(state.drivers)?.[0]).toEqual({ ...plainDriver, diameterM: 0.21, yM: -0.1 })
})

test.each(['0_0', '0_0_x', '0_-1_n', '1e9_0_n', '._0_n', '0_0_n*'])('%j is no list of fine settings', (text) => {
  expect(fineOfText(text)).toBeUndefined()
  expect(readLink(link, new URLSearchParams({ 'box.fine': text })).dropped).toHaveLength(1)
})

test('the drivers of the demo top come back', () => {
  expect(driversOfText(driversText(start.drivers))).toEqual(start.drivers)
})

test.each([
  '',
  'c',
  'c_1_2_3',
  'c_1_2_3_loud',
  'c_1_2_low',
  'h_1_2_3_low',
  'c_._._._low',
  'c_1_--2_3_low',
  'c_0.1_0_0_low*',
  'c_NaN_0_0_low',
  'c_1e9_0_0_low',
  'x_1_2_3_low',
])('%j is no list of drivers', (text) => {
  expect(driversOfText(text)).toBeUndefined()
  const { state, dropped } = readLink(link, new URLSearchParams({ 'box.drivers': text }))
  expect(state.drivers).toBe(driversText(start.drivers))
  expect(dropped).toHaveLength(1)
})

test.each([
  [{ 'box.widthM': '0' }, 'widthM “0” (outside 0.05 to 2 m)'],
  [{ 'box.depthM': 'Infinity' }, 'depthM “Infinity”'],
  [{ 'box.crossoverHz': '30' }, 'neither 0 nor 60 to 16000 Hz'],
  [{ 'box.bandHz': '1001' }, 'not a nominal third octave'],
  [{ 'box.drivers': Array(5).fill('c_0.05_0_0_low').join('*') }, 'more than 4 drivers'],
])('%j says what was dropped', (query, said) => {
  const { dropped } = readLink(link, new URLSearchParams(query))
  expect(dropped).toHaveLength(1)
  expect(dropped[0]).toContain(said)
})
