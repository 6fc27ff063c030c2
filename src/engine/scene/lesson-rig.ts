/** The demo rig that pages speak of where they name none: a file of content/gear. Lesson 2 takes its top for its box. */
export const lessonRig = 'top-over-sub'
