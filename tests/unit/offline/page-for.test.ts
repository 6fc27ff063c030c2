import { expect, test } from 'vitest'
import { pageFor } from '../../../src/offline/page-for.ts'

const kept = ['/', '/lessons/', '/lessons/more-boxes/', '/icon.svg']
const found = (path: string) => pageFor(path, (each) => kept.includes(each))

test.each([
  ['/', '/'],
  ['/lessons/', '/lessons/'],
  ['/lessons', '/lessons/'],
  ['/lessons/index.html', '/lessons/'],
  ['/index.html', '/'],
  ['/icon.svg', '/icon.svg'],
])('%s is kept under %s', (path, expected) => expect(found(path)).toBe(expected))

test.each(['/lesson', '/lessons/more', '/lessons//', '//', '/Lessons/', '/lessons/none/index.html'])(
  '%s is not kept',
  (path) => expect(found(path)).toBeUndefined(),
)
