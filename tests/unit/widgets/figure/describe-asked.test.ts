import { expect, test } from 'vitest'
import { problemSentence } from '../../../../src/widgets/figure/describe-asked.ts'

test('a failure says that the last answer stays only where there is one', () => {
  expect(problemSentence('picture', 'no answer', true)).toBe(
    'The picture could not be computed; the last one stays, with what it was computed for. (no answer)',
  )
  expect(problemSentence('picture', 'no answer', false)).toBe('The picture could not be computed. (no answer)')
})
