// Asks the browser to compile whole files while they arrive, off the page's own thread, instead of each function when it is first
// called: waking a figure calls most of what its files hold, and keeps a phone from answering for half as long. Chrome knows the hint
// from version 136 on (https://v8.dev/blog/explicit-compile-hints); to others it is a comment.

import { isClient } from './code-kits.mjs'

const hint = '//# allFunctionsCalledOnLoad\n'

/** Smaller files are compiled in no time, and the hint is a tenth of them; the largest one makes sound, and is fetched for a press. */
const hintedBytes = { from: 4000, to: 100_000 }

export const compileHints = {
  name: 'compile-hints',
  enforce: 'post',
  ...isClient,
  generateBundle(_, files) {
    for (const file of Object.values(files)) {
      if (file.type !== 'chunk') continue
      const { length } = file.code
      if (length >= hintedBytes.from && length <= hintedBytes.to) file.code = hint + file.code
    }
  },
}
