import { expect, test } from 'vitest'
import { fileText } from '../../../src/state/file-text.ts'
import { readWalks } from '../../../src/widgets/phone-walk/kept-walks.ts'

test('a file’s text comes as it is', async () => {
  expect(await fileText(new Blob(['{"name": "hall – ½"}']))).toBe('{"name": "hall – ½"}')
})

test('of a huge file only so much is read that its reader finds it too long', async () => {
  let askedFor = 0
  const part = new Blob(['x'.repeat(48_000_001)])
  const huge = {
    size: 640e6,
    slice: (from: number, to: number) => {
      askedFor = to - from
      return part.slice(from, to)
    },
  } as Blob
  const text = (await fileText(huge)) ?? ''
  expect(askedFor).toBeLessThan(50e6)
  expect(readWalks(text)).toContain('too long')
})

test('a file that the device does not give any more is told from an empty one', async () => {
  const gone = { slice: () => ({ text: () => Promise.reject(new DOMException('gone', 'NotReadableError')) }) }
  expect(await fileText(gone as unknown as Blob)).toBeUndefined()
  expect(await fileText(new Blob([]))).toBe('')
})
