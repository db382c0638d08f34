/** What holds for every result, always in sight beside it. */
export function Cautions({ sentences }: { sentences: readonly string[] }) {
  return (
    <ul className="cautions" aria-label="Cautions">
      {sentences.map((sentence) => (
        <li key={sentence}>{sentence} </li>
      ))}
    </ul>
  );
}
