import { getCollection } from 'astro:content'
import rss from '@astrojs/rss'
import type { APIRoute } from 'astro'
import { siteName } from '../layouts/page.messages.ts'
import { wordsOfPage } from '../layouts/words-of-page.ts'

/** The feed has whole addresses in it, so there is one where the site knows its own. */
export const getStaticPaths = () => (import.meta.env.SITE ? [{ params: { feed: 'feed' } }] : [])

/** What is on the site to read: lessons in their order, then answers. Nothing has a date, so a reader sees what is new by its address. */
export const GET: APIRoute = async ({ site }) => {
  const [lessons, answers, { description }] = await Promise.all([
    getCollection('lessons'),
    getCollection('answers'),
    wordsOfPage('home'),
  ])
  return rss({
    title: siteName(),
    description,
    site: site ?? '',
    customData: '<language>en</language>',
    items: [
      ...lessons
        .toSorted((a, b) => a.data.order - b.data.order)
        .map(({ id, data }) => ({ title: data.title, description: data.summary, link: `/lessons/${id}/` })),
      ...answers.map(({ id, data }) => ({ title: data.title, description: data.summary, link: `/answers/${id}/` })),
    ],
  })
}
