// The picture of every page for link previews, made at build when the site knows its address; no page loads it.
import { getCollection } from 'astro:content'
import type { APIRoute, GetStaticPaths } from 'astro'
import { pageAddress } from '../../layouts/page-addresses.ts'
import { addressHere, isWritten } from '../../layouts/page-language.ts'
import { previewChart } from '../../layouts/preview/preview-charts.ts'
import { type PreviewKind, previewAddress } from '../../layouts/preview/preview-kinds.ts'
import { previewPng } from '../../layouts/preview/preview-picture.ts'

type Shown = { title: string; sentence: string; kind: PreviewKind }

export const getStaticPaths = (async () => {
  // Without the site's address no page names its picture.
  if (!import.meta.env.SITE) return []
  const still = (
    pathname: string,
    { title, sentence, kind = 'behind' }: Omit<Shown, 'kind'> & { kind?: PreviewKind | undefined },
  ) =>
    isWritten(pathname)
      ? {
          params: { name: previewAddress(addressHere(pathname)).slice('/previews/'.length, -'.png'.length) },
          props: { title, sentence, kind },
        }
      : []
  const [answers, lessons, pages, embeds] = await Promise.all([
    getCollection('answers'),
    getCollection('lessons'),
    getCollection('pages'),
    getCollection('embeds'),
  ])
  return [
    ...answers.flatMap(({ id, data }) =>
      still(`/answers/${id}/`, { title: data.title, sentence: data.summary, kind: data.preview }),
    ),
    ...lessons.flatMap(({ id, data }) =>
      still(`/lessons/${id}/`, { title: data.title, sentence: data.summary, kind: data.preview }),
    ),
    ...pages.flatMap(({ id, data }) =>
      still(pageAddress(id), {
        title: data.heading ?? data.title,
        sentence: data.description,
        kind: data.preview,
      }),
    ),
    ...embeds.flatMap(({ id, data }) =>
      still(`/embed/${id}/`, { title: data.title, sentence: data.description, kind: data.preview }),
    ),
  ]
}) satisfies GetStaticPaths

export const GET: APIRoute<Shown> = async ({ props: { title, sentence, kind } }) => {
  const png = await previewPng({ title, sentence }, await previewChart(kind))
  return new Response(new Uint8Array(png), { headers: { 'Content-Type': 'image/png' } })
}
