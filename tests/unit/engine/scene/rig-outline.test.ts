import { readFileSync } from 'node:fs'
import { expect, test } from 'vitest'
import type { Rig } from '../../../../src/acoustics/index.ts'
import { rigDepthM, rigOutline, sideWallXM, wallZM } from '../../../../src/engine/scene/rig-outline.ts'

const box = (xM: number, zM: number, yawRad = 0) => ({
  name: `box at ${xM}, ${zM}`,
  widthM: 0.6,
  heightM: 0.5,
  depthM: 0.4,
  frontCentre: { xM, yM: 0.25, zM },
  yawRad,
  ways: [{ name: 'cone', drivers: [{ kind: 'piston' as const, radiusM: 0.1, xM: 0, yM: 0 }] }],
})

test('the rearmost face of a rig is that of the box that reaches farthest back', () => {
  const rig: Rig = { name: 'two', cabinets: [box(0, 0), box(1, -0.3)] }
  expect(rigOutline(rig)).toEqual({ xMinM: -0.3, xMaxM: 1.3, zMinM: -0.7, zMaxM: 0 })
  expect(rigDepthM(rig)).toBeCloseTo(0.7, 12)
  expect(wallZM(rig, 1)).toBeCloseTo(-1.7, 12)
  expect(sideWallXM(rig, 0.5)).toBeCloseTo(1.8, 12)
})

test('a box that is turned reaches back with its corner', () => {
  const rig: Rig = { name: 'turned', cabinets: [box(0, 0, Math.PI / 4)] }
  // Front right or left corner to the rear one: half the width and the depth, both at 45°.
  expect(rigDepthM(rig)).toBeCloseTo((0.3 + 0.4) * Math.SQRT1_2, 12)
  expect(rigOutline(rig).xMaxM).toBeCloseTo(0.3 * Math.SQRT1_2, 12)
})

test('the wall of a demo rig stands behind its deepest box', () => {
  const rig = JSON.parse(readFileSync('content/gear/top-over-sub.json', 'utf8')) as Rig
  const deepestM = Math.max(...rig.cabinets.map(({ depthM, frontCentre }) => depthM - frontCentre.zM))
  expect(rigDepthM(rig)).toBeCloseTo(deepestM, 12)
})
