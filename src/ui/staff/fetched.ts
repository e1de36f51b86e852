// What the staff fetches once it is needed.
export const fetched = {
  /** Once notes of one's own are edited. */
  editNotes: () => import('./EditNotes.svelte'),
};
