// The picture of every page for link previews, made at build when the site knows its address; no page loads it.
import { getCollection } from 'astro:content'
import type { APIRoute, GetStaticPaths } from 'astro'
import { previewChart } from '../../layouts/preview/preview-charts.ts'
import { type PreviewKind, previewAddress } from '../../layouts/preview/preview-kinds.ts'
import { previewPng } from '../../layouts/preview/preview-picture.ts'

type Shown = { title: string; sentence: string; kind: PreviewKind }

/** Where the pages of content/pages stand whose address is not their name. */
const addresses: Record<string, string> = {
  home: '/',
  'not-found': '/404/',
  afterwards: '/lessons/afterwards/',
  card: '/lessons/card/',
  'compare-sent': '/compare/sent/',
  'final-check': '/lessons/final-check/',
  sheet: '/lessons/sheet/',
}

export const getStaticPaths = (async () => {
  // Without the site's address no page names its picture.
  if (!import.meta.env.SITE) return []
  const still = (
    pathname: string,
    { title, sentence, kind = 'behind' }: Omit<Shown, 'kind'> & { kind?: PreviewKind | undefined },
  ) => ({
    params: { name: previewAddress(pathname).slice('/previews/'.length, -'.png'.length) },
    props: { title, sentence, kind },
  })
  const [answers, lessons, pages, embeds] = await Promise.all([
    getCollection('answers'),
    getCollection('lessons'),
    getCollection('pages'),
    getCollection('embeds'),
  ])
  return [
    ...answers.map(({ id, data }) =>
      still(`/answers/${id}/`, { title: data.title, sentence: data.summary, kind: data.preview }),
    ),
    ...lessons.map(({ id, data }) =>
      still(`/lessons/${id}/`, { title: data.title, sentence: data.summary, kind: data.preview }),
    ),
    ...pages.map(({ id, data }) =>
      still(addresses[id] ?? `/${id}/`, {
        title: data.heading ?? data.title,
        sentence: data.description,
        kind: data.preview,
      }),
    ),
    ...embeds.map(({ id, data }) =>
      still(`/embed/${id}/`, { title: data.title, sentence: data.description, kind: data.preview }),
    ),
  ]
}) satisfies GetStaticPaths

export const GET: APIRoute<Shown> = async ({ props: { title, sentence, kind } }) => {
  const png = await previewPng({ title, sentence }, await previewChart(kind))
  return new Response(new Uint8Array(png), { headers: { 'Content-Type': 'image/png' } })
}
