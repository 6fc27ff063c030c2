import { describe, expect, test } from 'vitest'
import { magnitude } from '../../../../src/acoustics/complex.ts'
import { rigField } from '../../../../src/acoustics/field/rig-field.ts'
import { makeAir } from '../../../../src/acoustics/medium/air.ts'
import type { Cabinet, Driver } from '../../../../src/acoustics/radiation/cabinet.ts'
import { portFlowRatio, usualPortQuality } from '../../../../src/acoustics/radiation/port-flow.ts'
import { portPipe } from '../../../../src/acoustics/radiation/port-pipe.ts'
import { checkRearPort, type RearPort } from '../../../../src/acoustics/radiation/rear-port.ts'
import { portCeilingHz, rearPortFlow, withRearPort } from '../../../../src/acoustics/radiation/rear-port-radiation.ts'
import { solveCabinet } from '../../../../src/acoustics/radiation/solve-cabinet.ts'
import { sphereCabinet } from '../../../../src/acoustics/radiation/sphere-cabinet.ts'
import { solvedCeilingHz } from '../../../../src/engine/solving/solved-frequencies.ts'

const air = makeAir()
const size = { widthM: 0.3, heightM: 0.5, depthM: 0.35 }
const cone: Driver = { kind: 'piston', radiusM: 0.1, xM: 0, yM: -0.1 }
const horn: Driver = {
  kind: 'horn',
  mouthWidthM: 0.2,
  mouthHeightM: 0.1,
  horizontalCoverageRad: 1.5,
  verticalCoverageRad: 1,
  xM: 0,
  yM: 0.15,
}
const box: Cabinet = { ...size, drivers: [cone] }
const port: RearPort = { diameterM: 0.1, xM: 0.05, yM: 0.12, tuningHz: 60 }

describe('the flow of a port', () => {
  test('undoes the cone far below the tuning, is Q times as much and a quarter period on at it, and dies away above', () => {
    const low = portFlowRatio(0, 60)
    expect([low.re, low.im]).toEqual([-1, expect.closeTo(0, 15)])
    const at = portFlowRatio(60, 60, 9)
    expect(at.re).toBeCloseTo(0, 12)
    expect(at.im).toBeCloseTo(9, 12)
    expect(magnitude(portFlowRatio(600, 60))).toBeCloseTo(1 / 99, 5)
  })

  test.each([
    [-1, 60, 7, 'frequencyHz'],
    [50, 9, 7, 'tuningHz'],
    [50, 401, 7, 'tuningHz'],
    [50, Number.NaN, 7, 'tuningHz'],
    [50, 60, 0.5, 'quality'],
  ])('refuses %d Hz, tuned to %d Hz, Q %d', (frequencyHz, tuningHz, quality, name) => {
    expect(() => portFlowRatio(frequencyHz, tuningHz, quality)).toThrow(new RegExp(`^${name} is`))
  })

  test('comes from the cones alone, with their signs and delays', () => {
    const alone = rearPortFlow(box, port, 60, air)
    expect(magnitude(alone)).toBeCloseTo(usualPortQuality, 9)
    const areas = { cone: Math.PI * 0.1 ** 2, horn: 0.02 }
    const share = areas.cone / (areas.cone + areas.horn)
    expect(magnitude(rearPortFlow({ ...size, drivers: [cone, horn] }, port, 60, air))).toBeCloseTo(
      usualPortQuality * share,
      9,
    )
    const late: Driver = { ...cone, gain: -1, delayS: 1 / 240 }
    const flow = rearPortFlow({ ...size, drivers: [late] }, port, 60, air)
    // −1 and a quarter of a period late: j times what it was.
    expect(flow.re).toBeCloseTo(-alone.im, 9)
    expect(flow.im).toBeCloseTo(alone.re, 9)
  })

  test('its tuning moves with the air, so that a box sounds alike at the same wavelength', () => {
    const warm = makeAir({ temperatureC: 35 })
    const ratio = warm.speedOfSoundMps / air.speedOfSoundMps
    for (const frequencyHz of [40, 60, 120]) {
      const here = withRearPort(sphereCabinet, box, port, frequencyHz, air)
      const there = withRearPort(sphereCabinet, box, port, frequencyHz * ratio, warm)
      expect(there.farFieldDb(Math.PI, 0)).toBeCloseTo(here.farFieldDb(Math.PI, 0), 6)
    }
  })

  test('ends where boxes are no longer solved', () => {
    expect(portCeilingHz).toBe(solvedCeilingHz)
    expect(magnitude(rearPortFlow(box, port, 1900, air))).toBeGreaterThan(0)
    expect(magnitude(rearPortFlow(box, port, 2001, air))).toBe(0)
    const large: Cabinet = { widthM: 1.2, heightM: 1.4, depthM: 1.2, drivers: [cone] }
    expect(magnitude(rearPortFlow(large, port, 1900, air))).toBe(0)
    expect(withRearPort(sphereCabinet, box, port, 2001, air).powerW).toBe(sphereCabinet(box, 2001, air).powerW)
  })
})

describe('a box with a port in its back', () => {
  test.each([
    ['the sphere', sphereCabinet],
    ['boundary elements', solveCabinet],
  ])('%s: a port as wide as the cone sends out what the cone does, mirrored and with its own flow', (_, model) => {
    const drivers: Driver[] = [{ kind: 'piston', radiusM: 0.08, xM: 0, yM: 0 }]
    const hole = { diameterM: 0.16, tuningHz: 60 }
    const cabinet = { ...size, drivers }
    const both = withRearPort(model, cabinet, hole, 150, air)
    const cones = model(cabinet, 150, air)
    const flow = rearPortFlow(cabinet, hole, 150, air)
    for (const place of [
      { xM: 0.3, yM: 0.2, zM: 1 },
      { xM: -1, yM: 0, zM: -0.175 },
      { xM: 0, yM: 0.1, zM: -1.5 },
    ]) {
      const p = both.pressureAt(place)
      const front = cones.pressureAt(place)
      const back = cones.pressureAt({ ...place, zM: -size.depthM - place.zM })
      expect(p.re).toBeCloseTo(front.re + flow.re * back.re - flow.im * back.im, 6)
      expect(p.im).toBeCloseTo(front.im + flow.re * back.im + flow.im * back.re, 6)
    }
  })

  test('close behind the port it is louder than without, and far away alike all round low down', () => {
    const at = (frequencyHz: number) => withRearPort(sphereCabinet, box, port, frequencyHz, air)
    const behind = { xM: 0.05, yM: 0.12, zM: -0.45 }
    expect(magnitude(at(60).pressureAt(behind))).toBeGreaterThan(
      5 * magnitude(sphereCabinet(box, 60, air).pressureAt(behind)),
    )
    expect(Math.abs(at(60).farFieldDb(Math.PI, 0))).toBeLessThan(3)
  })

  test('a rig is set flat with it: what changes is behind', () => {
    const rig = (withPort: boolean) => ({
      name: 'one',
      cabinets: [
        {
          name: 'one',
          ...size,
          frontCentre: { xM: 0, yM: 1.6, zM: 0 },
          ways: [{ name: 'all', drivers: [cone], ...(withPort && { port }) }],
        },
      ],
    })
    const place = { xM: 0, yM: 1.6, zM: 4 }
    for (const frequencyHz of [40, 60, 100]) {
      const [plain, ported] = [false, true].map((withPort) => rigField(rig(withPort), air, sphereCabinet, place))
      const level = (zM: number, field = ported) =>
        magnitude(field?.transferAt({ ...place, zM }, frequencyHz) ?? { re: 0, im: 0 })
      expect(level(4)).toBeCloseTo(1 / 4, 9)
      expect(Math.abs(Math.log2(level(-1) / level(-1, plain)))).toBeGreaterThan(0.05)
    }
  })

  test.each([
    [{ ...port, diameterM: 0.4 }, box, /^port.drivers\[0\] is 0.4 m wide/],
    [{ ...port, yM: 0.21 }, box, /^port.drivers\[0\].yM is 0.21/],
    [{ ...port, tuningHz: 0 }, box, /^port.tuningHz is 0; allowed is a finite number from 10 to 400 Hz/],
    [port, { ...size, drivers: [horn] }, /stands where no cone plays/],
  ])('refuses what cannot be: %j', (wrong, cabinet, said) => {
    expect(() => checkRearPort(cabinet as Cabinet, wrong)).toThrow(said)
  })
})

describe('the pipe of a port', () => {
  test('gives back the tuning of a resonator of its length with its ends', () => {
    const { lengthM, pipeHz } = portPipe(size, { diameterM: 0.08, tuningHz: 50 }, air)
    const volumeM3 = 0.75 * 0.3 * 0.5 * 0.35
    const wholeM = lengthM + 0.04 * (0.8488 + 0.613)
    const tunedHz = (air.speedOfSoundMps / (2 * Math.PI)) * Math.sqrt((Math.PI * 0.04 ** 2) / (volumeM3 * wholeM))
    expect(tunedHz).toBeCloseTo(50, 2)
    expect(pipeHz).toBeCloseTo(air.speedOfSoundMps / (2 * wholeM), 0)
  })

  test('a bare hole that is too small for its tuning has no length left', () => {
    expect(portPipe(size, { diameterM: 0.03, tuningHz: 150 }, air).lengthM).toBeLessThan(0)
    expect(() => portPipe(size, { diameterM: 0, tuningHz: 50 }, air)).toThrow(/^port.diameterM/)
  })
})
