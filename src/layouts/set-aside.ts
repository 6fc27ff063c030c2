import { asideFile, asideNames, forgetAside } from '../state/set-aside.ts'
import { save } from '../widgets/controls/save-file.ts'

/** Shows that something is set aside on this device, in the foot of the page, with the ways to have it as a file and to forget it. */
export function showSetAside(line: HTMLElement): void {
  line.hidden = asideNames().length === 0
  const [saveIt, forgetIt] = line.querySelectorAll('button')
  saveIt?.addEventListener('click', () => {
    save('set-aside.json', new Blob([asideFile()], { type: 'application/json' }))
    // Only what has been saved can be forgotten.
    if (forgetIt) forgetIt.hidden = false
  })
  forgetIt?.addEventListener('click', () => {
    forgetAside()
    line.hidden = true
  })
}
