import { describe, expect, it } from 'vitest'
import { type LabelAsk, type LabelBox, labelPlaces, segmentMeets } from '../../../src/charts/label-places.ts'

const frame: LabelBox = { left: 0, top: 0, right: 400, bottom: 300 }
const label = (left: number, top: number, more: Partial<LabelAsk> = {}): LabelAsk => ({
  box: { left, top, right: left + 60, bottom: top + 12 },
  reachPx: 130,
  spare: false,
  ...more,
})
const at = ({ box }: LabelAsk, { x, y }: { x: number; y: number }): LabelBox => ({
  left: box.left + x,
  right: box.right + x,
  top: box.top + y,
  bottom: box.bottom + y,
})
const apart = (a: LabelBox, b: LabelBox) =>
  a.right <= b.left || b.right <= a.left || a.bottom <= b.top || b.bottom <= a.top

describe('a line and a box', () => {
  const box = { left: 10, top: 10, right: 20, bottom: 20 }
  it('meet where the line crosses, enters or lies inside', () => {
    expect(segmentMeets({ x1: 0, y1: 15, x2: 30, y2: 15 }, box)).toBe(true)
    expect(segmentMeets({ x1: 0, y1: 0, x2: 15, y2: 15 }, box)).toBe(true)
    expect(segmentMeets({ x1: 12, y1: 12, x2: 18, y2: 18 }, box)).toBe(true)
  })
  it('do not meet where it passes by, upright, level or aslant', () => {
    expect(segmentMeets({ x1: 5, y1: 0, x2: 5, y2: 30 }, box)).toBe(false)
    expect(segmentMeets({ x1: 0, y1: 25, x2: 30, y2: 25 }, box)).toBe(false)
    expect(segmentMeets({ x1: 0, y1: 19, x2: 19, y2: 40 }, box)).toBe(false)
    expect(segmentMeets({ x1: 0, y1: 15, x2: 8, y2: 15 }, box)).toBe(false)
  })
})

describe('a label', () => {
  it('stays where it was meant to stand if that is clear', () => {
    expect(labelPlaces([label(100, 100)], [], [], frame)).toEqual([{ x: 0, y: 0 }])
  })
  it('steps off a line by no more than it must', () => {
    const line = { x1: 0, y1: 106, x2: 400, y2: 106 }
    const ask = label(100, 100)
    const [shift] = labelPlaces([ask], [line], [], frame)
    expect(shift).toBeDefined()
    expect(segmentMeets(line, at(ask, shift ?? { x: 0, y: 0 }))).toBe(false)
    expect(Math.hypot(shift?.x ?? 99, shift?.y ?? 99)).toBeLessThanOrEqual(12)
  })
  it('steps off a mark, and off a label that came before it', () => {
    const marks = [{ left: 110, top: 95, right: 130, bottom: 115 }]
    const asks = [label(100, 100), label(100, 100)]
    const [one, other] = labelPlaces(asks, [], marks, frame).map((shift, index) =>
      at(asks[index] as LabelAsk, shift ?? { x: 0, y: 0 }),
    ) as [LabelBox, LabelBox]
    expect(apart(one, marks[0] as LabelBox)).toBe(true)
    expect(apart(other, marks[0] as LabelBox)).toBe(true)
    expect(apart(one, other)).toBe(true)
  })
  it('comes back into the frame', () => {
    const ask = label(370, -5)
    const box = at(ask, labelPlaces([ask], [], [], frame)[0] ?? { x: 0, y: 0 })
    expect(box.right).toBeLessThanOrEqual(frame.right)
    expect(box.top).toBeGreaterThanOrEqual(frame.top)
  })
  it('keeps its last place as long as that is clear, so that it does not jump, and goes home when it can', () => {
    const line = { x1: 0, y1: 106, x2: 400, y2: 106 }
    const last = { x: 0, y: -30 }
    expect(labelPlaces([label(100, 100, { last })], [line], [], frame)).toEqual([last])
    expect(labelPlaces([label(100, 100, { last })], [], [], frame)).toEqual([{ x: 0, y: 0 }])
  })
  it('is left out without room only if the drawing can do without it', () => {
    const full = [{ left: 0, top: 0, right: 400, bottom: 300 }]
    expect(labelPlaces([label(100, 100, { spare: true })], [], full, frame)).toEqual([undefined])
    expect(labelPlaces([label(100, 100)], [], full, frame)).toEqual([{ x: 0, y: 0 }])
  })
  it('that may not move stays, on whatever it stands, and others go round it', () => {
    const line = { x1: 0, y1: 106, x2: 400, y2: 106 }
    const asks = [label(100, 100, { reachPx: 0 }), label(110, 100)]
    const [fixed, other] = labelPlaces(asks, [line], [], frame)
    expect(fixed).toEqual({ x: 0, y: 0 })
    expect(apart(at(asks[0] as LabelAsk, { x: 0, y: 0 }), at(asks[1] as LabelAsk, other ?? { x: 0, y: 0 }))).toBe(true)
  })
})
