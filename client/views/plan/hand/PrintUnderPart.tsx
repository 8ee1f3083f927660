import type { Cloth } from '../../../../pattern/exchange/project.ts';
import { Tick } from '../../../fields/Choice.tsx';
import { t } from '../../../strings/index.ts';
import { RepeatPicture } from '../../take/RepeatPicture.tsx';

interface PrintUnderPartProps {
  readonly cloth: Cloth;
  readonly isShown: boolean;
  readonly show: (on: boolean) => void;
}

/** The print under the pieces, where the cloth has one that recurs both ways: shown, or asked for. */
export function PrintUnderPart({ cloth, isShown, show }: PrintUnderPartProps) {
  const { repeat, printPicture } = cloth;
  if (!repeat || repeat.alongMm <= 0 || repeat.acrossMm <= 0 || repeat.skewDeg !== 0) return null;
  return (
    <section class="panel" aria-label={t.hand.print}>
      <h3>{t.hand.print}</h3>
      {printPicture === undefined ? (
        <RepeatPicture cloth={cloth} />
      ) : (
        <Tick label={t.hand.printShown} help={t.hand.printHelp} on={isShown} onChange={show} />
      )}
    </section>
  );
}
