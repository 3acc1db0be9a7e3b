/** How hard a text is to read. */

/** Words the trade knows and a buyer does not. */
export const TRADE_WORDS = /\b(bank|TIN|P10|P50|P90|batters?|daylight|catchment|misclosure|datum|invert)\b/i;

/** Syllables by groups of vowels, silent final e left out: the usual rule of thumb. */
function syllables(word: string): number {
  const groups = word
    .toLowerCase()
    .replace(/e\b/, "")
    .match(/[aeiouy]+/g);
  return Math.max(1, groups?.length ?? 1);
}

/** What is said in sentences: labels, figures and captions would make any page read like a primer. */
export function sentencesOf(text: string): string {
  return text
    .split(/(?<=[.!?])\s+/)
    .filter((sentence) => (sentence.match(/[A-Za-z][A-Za-z'’-]*/g) ?? []).length >= 5)
    .join(" ");
}

/** Kincaid and others, Research Branch Report 8-75 (US Navy, 1975): 0.39 words/sentence + 11.8 syllables/word − 15.59. */
export function gradeLevel(text: string): number {
  const sentences = text.split(/[.!?]+\s/).filter((s) => /[a-z]/i.test(s));
  const words = text.match(/[A-Za-z][A-Za-z'’-]*/g) ?? [];
  const count = words.reduce((sum, word) => sum + syllables(word), 0);
  return 0.39 * (words.length / sentences.length) + 11.8 * (count / words.length) - 15.59;
}
