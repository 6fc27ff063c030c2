import type { LessonCheck } from '../../state/check-results.ts'
import { exportCourse, importCourse } from '../../state/course-file.ts'
import { keptLessonChecks } from '../../state/lesson-checks.ts'
import { onLessonChecksChange } from '../../state/lesson-checks-change.ts'
import { keepTrainee, keptTrainee, onTraineeChange } from '../../state/trainee.ts'
import * as say from './sign-off.messages.ts'

/** The sign-off sheet of this device: the name, and what is kept of every check. */
export class SignOff {
  name = $state('')
  checks: Record<string, LessonCheck> = $state.raw({})
  /** Why the name or the results are not kept, or ''. */
  notKept = $state('')
  /** What became of a file. */
  note = $state('')

  /** Follows what the device keeps, also when another tab changes it; returns the function that ends it. */
  follow(): () => void {
    const take = () => {
      const { checks, problem } = keptLessonChecks()
      this.checks = checks
      this.notKept = problem
    }
    const takeName = () => {
      this.name = keptTrainee()
    }
    take()
    takeName()
    const ends = [onLessonChecksChange(take), onTraineeChange(takeName)]
    // A page that comes back from the browser's memory has missed what was answered meanwhile.
    addEventListener('pageshow', take)
    return () => {
      removeEventListener('pageshow', take)
      for (const end of ends) end()
    }
  }

  async setName(name: string): Promise<void> {
    this.name = name
    if (!(await keepTrainee(name))) this.notKept = say.nameNotKept()
  }

  /** All of it as the text of a file. */
  file = (): string => exportCourse()

  async open(text: string): Promise<void> {
    const { changed, of, problem } = await importCourse(text)
    this.note = problem || say.opened({ changed, of })
    this.name = keptTrainee()
    this.checks = keptLessonChecks().checks
  }
}
