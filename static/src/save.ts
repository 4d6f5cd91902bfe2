// Handing a file over: to the phone's own sharing where it takes files, else
// as a download.

/** handOver gives the rider a file, and says whether it was taken: the rider may change their mind. */
export async function handOver(content: Blob, name: string): Promise<boolean> {
  const file = new File([content], name, { type: content.type });
  if (navigator.canShare?.({ files: [file] })) {
    try {
      await navigator.share({ files: [file], title: name });
      return true;
    } catch (err) {
      if (err instanceof DOMException && err.name === "AbortError") return false;
    }
  }
  download(content, name);
  return true;
}

/** download saves a file as the browser does. */
export function download(content: Blob, name: string): void {
  const url = URL.createObjectURL(content);
  const a = document.createElement("a");
  a.href = url;
  a.download = name;
  a.click();
  setTimeout(() => URL.revokeObjectURL(url), 10_000);
}
