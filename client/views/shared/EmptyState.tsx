import type { ComponentChildren } from 'preact';
import type { StepName } from '../../state/route.ts';
import { t } from '../../strings/index.ts';

type Step = Exclude<StepName, 'pieces'>;

interface EmptyStateProps {
  readonly step: Step;
  /** What to do first. */
  readonly children: ComponentChildren;
  readonly spot?: string;
}

/** A step with nothing in it yet: what will be seen here, what for, and where to begin. */
export function EmptyState({ step, children, spot }: EmptyStateProps) {
  return (
    <section class="empty-state" aria-label={t.empty.label} data-spot={spot}>
      <svg class="empty-drawing" viewBox="0 0 200 110" aria-hidden="true" focusable="false">
        {DRAWINGS[step]}
      </svg>
      <div>
        {t.empty[step].map((line) => (
          <p key={line}>{line}</p>
        ))}
        <p class="row">{children}</p>
      </div>
    </section>
  );
}

/** A pocket, seen from the front. */
const POCKET = 'M0 0H34V26L17 38L0 26Z';

/** What each step looks like once there is something. Our own. */
const DRAWINGS: Readonly<Record<Step, preact.JSX.Element>> = {
  cutlist: (
    <>
      <path class="hd-piece" d={POCKET} transform="translate(14 8)" />
      <path class="hd-piece" d="M14 66H48V100H14Z" />
      <path class="hd-soft" d="M14 56H186M104 8V102M146 8V102" />
      <path
        class="hd-line"
        d="M78 20L86 16V40M122 20L130 16V40M122 96H130M122 74C126 68 132 74 130 80L122 96"
      />
      <path class="hd-line" d="M78 74L86 70V94M160 20L168 16V40" />
    </>
  ),
  cloths: (
    <>
      <path class="hd-cloth" d="M26 14H116V78H26Z" />
      <path class="hd-upper" d="M12 14a7 4 0 0 1 14 0V78a7 4 0 0 1 -14 0Z" />
      <path class="hd-soft" d="M40 46H104M98 42L104 46L98 50" />
      <path class="hd-line" d="M26 92H116M26 88V96M116 88V96" />
      <path class="hd-cloth" d="M138 24L178 16L190 52L176 84L146 78L132 54Z" />
      <circle class="hd-motif" cx="162" cy="54" r="4" />
    </>
  ),
  plan: (
    <>
      <path class="hd-cloth" d="M10 14H190V86H10Z" />
      <path class="hd-piece" d="M14 18H78V82H14Z" />
      <path class="hd-piece" d={POCKET} transform="translate(82 18)" />
      <path class="hd-piece" d={POCKET} transform="translate(116 82) scale(-1 -1)" />
      <path class="hd-piece" d="M120 18H154V48H120ZM120 52H154V82H120Z" />
      <path class="hd-line" d="M46 66V34M41 40L46 33L51 40M10 98H158M10 94V102M158 94V102" />
    </>
  ),
  cut: (
    <>
      <path class="hd-cloth" d="M10 14H140V96H10Z" />
      <path class="hd-piece" d="M16 20H70V90H16Z" />
      <path class="hd-fold" d="M74 6V104" />
      <path class="hd-soft" d="M80 20H134M80 54H134" stroke-dasharray="4 3" />
      <path
        class="hd-line"
        d="M156 18H172V34H156ZM156 48H172V64H156ZM156 78H172V94H156ZM159 26L163 31L170 20M159 56L163 61L170 50"
      />
    </>
  ),
};
