// Files to the person's device.

export interface Download {
  readonly name: string;
  readonly type: string;
  readonly content: string | Uint8Array;
}

/** Hands a file to the browser's downloads. */
export function download({ name, type, content }: Download): void {
  const address = URL.createObjectURL(
    new Blob([typeof content === 'string' ? content : new Uint8Array(content)], { type }),
  );
  const link = document.createElement('a');
  link.href = address;
  link.download = name;
  document.body.append(link);
  link.click();
  link.remove();
  // The browser reads the blob after the click has been handled.
  setTimeout(() => {
    URL.revokeObjectURL(address);
  }, 30_000);
}

/** A name every file system takes, from any title. */
export function fileName(title: string, ending: string): string {
  const stem = title
    .normalize('NFKD')
    .replace(/\p{M}/gu, '')
    .replace(/[^A-Za-z0-9]+/g, '-')
    .replace(/^-+|-+$/g, '')
    .slice(0, 60)
    .toLowerCase();
  return `${stem || 'study'}.${ending}`;
}
