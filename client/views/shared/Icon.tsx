/** Signs of our own, drawn on a 20 × 20 grid in the colour of the text around them. */
const PATHS = {
  undo: 'M8 4 3.5 8.5 8 13M4 8.5h7.5a4.5 4.5 0 0 1 0 9H9',
  redo: 'M12 4l4.5 4.5L12 13M16 8.5H8.500a4.500 4.500 0 0 0 0 9H11',
  plus: 'M10 4v12M4 10h12',
  close: 'M5 5l10 10M15 5 5 15',
  back: 'M12 4 6 10l6 6',
  go: 'M8 4l6 6-6 6',
  up: 'M4 12.500l6-6 6 6',
  under: 'M4 7.500l6 6 6-6',
  swap: 'M6 4v11M3 12l3 3.500 3-3.500M14 16V5M11 8l3-3.500L17 8',
  settled: 'M4 10.500 8.500 15 16 5.500',
  lacking: 'M10 3 18 17H2ZM10 8.500v4M10 14.800v.2',
  more: 'M4 6h12M4 10h12M4 14h12',
  fold: 'M3 5h9a5 5 0 0 1 0 10H3M3 10h9',
  down: 'M10 3v10M5.500 9 10 13.500 14.500 9M4 17h12',
  print: 'M6 8V3h8v5M6 14H3.500V8h13v6H14M6 11.500h8V17H6Z',
  keep: 'M5 3h10v14l-5-4-5 4Z',
  in: 'M4 10h12M10 4v12',
  out: 'M4 10h12',
  whole: 'M3 7V3h4M13 3h4v4M17 13v4h-4M7 17H3v-4',
  hand: 'M4 12.500 8 8.500l3.500 3.500M8 8.500V4.500M8 4.500h8v8h-4.500M4 16h12',
  region:
    'M3 6V3h3M9 3h2M14 3h3v3M17 9v2M17 14v3h-3M11 17H9M6 17H3v-3M3 11V9M8 10.500V9a2 2 0 0 1 4 0v1.500M7 10.500h6V14H7Z',
  shelf: 'M3 9h14M3 17h14M5 9V5h4v4M11 9V3.500h3V9M4.500 17v-4.500h6V17M13 17v-3h3v3',
  stop: 'M5 5h10v10H5Z',
  follows: 'M4 4v6.500a3 3 0 0 0 3 3h8M11.500 10l3.500 3.500-3.500 3.500',
} as const;

export type IconName = keyof typeof PATHS;

export function Icon({ name }: { readonly name: IconName }) {
  return (
    <svg class="icon" viewBox="0 0 20 20" aria-hidden="true" focusable="false">
      <path d={PATHS[name]} />
    </svg>
  );
}
