import { mount } from 'svelte'
import { lessonPlan } from './check-plan.ts'
import { loadQuestions } from './load-questions.ts'
import SelfCheck from './SelfCheck.svelte'
import { SelfCheckState } from './self-check.svelte.ts'

/** Fetches the questions of the fold's lesson and puts the self-check into it, once. Rejects when they cannot be fetched. */
export async function startSelfCheck(fold: HTMLDetailsElement): Promise<void> {
  const lesson = fold.dataset['lesson'] ?? ''
  const asked = await loadQuestions(lesson)
  const waiting = fold.querySelector(':scope > [role=status]')
  if (!waiting) return
  const place = document.createElement('div')
  waiting.replaceWith(place)
  mount(SelfCheck, { target: place, props: { live: new SelfCheckState(lessonPlan(lesson, asked)) } })
}
