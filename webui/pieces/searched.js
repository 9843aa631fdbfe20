// Words looked for in what a screen has already: in any order, small or capital, with or without marks on letters.

/** The text as it is compared. Marks that stand by themselves in their script, as the vowels of Hindi do, stay. @param {string} text */
export const folded = (text) => text.normalize("NFKD").replaceAll(/\p{Script=Inherited}/gu, "").toLocaleLowerCase();

/** Whether a folded text has all words of what was typed. @param {string} typed */
export function finds(typed) {
  const words = folded(typed).split(/\s+/u).filter(Boolean);
  return (text) => words.every((word) => text.includes(word));
}
