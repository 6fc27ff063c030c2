import { describe, expect, it } from 'vitest'
import { makeAir, shoeboxModesHz } from '../../../../src/acoustics/index.ts'

const air = makeAir()
const size = { lengthM: 18, widthM: 11, heightM: 4.6 }

describe('resonances of a box-shaped hall', () => {
  it('rise, and hold every one up to the limit, itself included', () => {
    const modes = shoeboxModesHz(size, 80, air)
    const frequencies = modes.map(({ frequencyHz }) => frequencyHz)
    expect(frequencies).toEqual([...frequencies].sort((a, b) => a - b))
    let count = 0
    for (let l = 0; l < 20; l++) {
      for (let w = 0; w < 20; w++) {
        for (let h = 0; h < 20; h++) {
          if (l + w + h > 0 && 171.6 * Math.hypot(l / 18, w / 11, h / 4.6) <= 80) count++
        }
      }
    }
    expect(modes.length).toBe(count)
    expect(shoeboxModesHz(size, 171.6 / 18, air)).toEqual([{ frequencyHz: 171.6 / 18, orders: [1, 0, 0] }])
    expect(shoeboxModesHz(size, 9.5, air)).toEqual([])
  })
  it('orders are those of length, width and height', () => {
    expect(shoeboxModesHz(size, 40, air).find(({ orders }) => orders.join() === '0,1,0')?.frequencyHz).toBeCloseTo(
      15.6,
      9,
    )
    expect(shoeboxModesHz(size, 40, air).find(({ orders }) => orders.join() === '0,0,1')?.frequencyHz).toBeCloseTo(
      37.304,
      3,
    )
  })
  it('grow in number like the volume of the octant, with its faces and edges', () => {
    const f = 1000
    const [V, S, L] = [910.8, 662.8, 4 * 33.6]
    const k = f / air.speedOfSoundMps
    const expected = ((4 * Math.PI) / 3) * V * k ** 3 + (Math.PI / 4) * S * k ** 2 + (L / 8) * k
    expect(shoeboxModesHz(size, f, air).length / expected).toBeCloseTo(1, 2)
  })
  it('refuse sizes and limits out of range', () => {
    for (const side of ['lengthM', 'widthM', 'heightM']) {
      for (const value of [0, 0.09, 1001, Number.NaN]) {
        expect(() => shoeboxModesHz({ ...size, [side]: value }, 50, air)).toThrow(`size.${side} is ${value}`)
      }
    }
    for (const value of [0, -1, 1e5, Infinity]) expect(() => shoeboxModesHz(size, value, air)).toThrow('upToHz is')
  })
})
