// What is typed into a field counts once the field is left. A page that is left takes its fields with it.

/** Kinds of field whose words count when they are left. */
const typed = ['text', 'number'];

/** Makes what stands in the field that is being typed into count now; the field keeps its place. */
export function commitField(page: Document): void {
  const field = page.activeElement;
  if (field instanceof HTMLInputElement && typed.includes(field.type))
    field.dispatchEvent(new Event('change', { bubbles: true }));
}
