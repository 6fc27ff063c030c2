import { mount } from 'svelte'
import { loadQuestions, questionFiles } from '../self-check/load-questions.ts'
import FinalCheck from './FinalCheck.svelte'
import type { LessonPlaces } from './final-plan.ts'

/** Fetches the questions of all lessons and puts the final check into its place, once. Rejects when they cannot be fetched. */
export async function startFinalCheck(place: HTMLElement, places: LessonPlaces): Promise<void> {
  const lessons = Object.keys(questionFiles)
  const asked = Object.fromEntries(
    await Promise.all(lessons.map(async (lesson) => [lesson, await loadQuestions(lesson)] as const)),
  )
  if (place.childElementCount > 0) return
  mount(FinalCheck, { target: place, props: { asked, places } })
  place.querySelector<HTMLElement>('[tabindex="-1"]')?.focus()
}
