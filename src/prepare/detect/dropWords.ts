// Words for drops and what stands before them; common practice, no source.

const drops =
  "(?:drops?|eye ?drops|[csz][iy][ck]k?lo\\w*|dilat\\w*|tropfen|gouttes|collyre|gotas|colirio|gocce|collirio|druppels|draper|draber|drypp\\w*|droppar|krop\\w*|damla\\w*|tetes|siklo\\w*|cyklo\\w*|syklo\\w*)";
const without = new RegExp(
  `\\b(?:before|without|no|non|pre|not|ohne|vor|sans|avant|sin|antes|sem|senza|prima|zonder|voor|uden|utan|uten|for|fore|przed|bez|sebelum|tanpa)\\b(?: \\w{1,4})? ?${drops}\\b`,
);
const after = new RegExp(
  `\\b(?:after|with|post|under|mit|nach|unter|avec|apres|sous|con|despues|tras|com|depois|dopo|met|na|onder|med|efter|etter|po|pod|sesudah|setelah|dengan)\\b(?: \\w{1,4})? ?${drops}\\b`,
);

/** Whether words say that something was measured before drops, or after them; null where they say neither. */
export function dropsIn(words: string): "none" | "full" | null {
  if (without.test(words) || /\b(noncyclo\w*|undilated|dry)\b/.test(words)) return "none";
  return after.test(words) || /\b(cyc|[csz][iy][ck]k?lo\w*|wet|dilated)\b/.test(words)
    ? "full"
    : null;
}
