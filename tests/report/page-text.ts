/** What a reader sees of a report, drawings left out, one sentence a block. */
export function textOf(html: string): string {
  return html
    .replace(/<(style|svg)[\s\S]*?<\/\1>/g, " ")
    .replace(/<\/(p|li|h1|h2|h3|dt|dd|figcaption|td|th)>/g, ". ")
    .replace(/<[^>]+>/g, " ")
    .replace(/&amp;/g, "&")
    .replace(/&nbsp;|\u00a0/g, " ")
    .replace(/&#x27;|&#39;/g, "'")
    .replace(/&#x3D;/g, "=")
    .replace(/&quot;/g, '"')
    .replace(/\s+/g, " ")
    .replace(/(\. )+/g, ". ")
    .replace(/([.!?:])\s*\./g, "$1");
}
