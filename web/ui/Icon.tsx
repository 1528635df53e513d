/** Own line drawings on a 24 px grid; the text beside them carries the meaning. */
const PATHS = {
  camera: 'M4 8h4l2-3h4l2 3h4v11H4zM12 17a4 4 0 1 0 0-8 4 4 0 0 0 0 8z',
  picture: 'M4 5h16v14H4zM4 16l5-5 4 4 3-3 4 4M15.5 9.5h.01',
  tape: 'M3 9h18v6H3zM6 9v3M9 9v2M12 9v3M15 9v2M18 9v3',
  hook: 'M7 21 16.5 7.5A3 3 0 1 0 12.6 4M14 5.2l1.6 1.2',
  stall: 'M3 9l2-5h14l2 5M4 9v11M20 9v11M3 9h18M4 14h16',
  jar: 'M8 3h8v3H8zM7 8c0-1 1-2 1-2h8s1 1 1 2v11a2 2 0 0 1-2 2H9a2 2 0 0 1-2-2zM7 12h10',
  guide: 'M5 4h9l5 5v11H5zM14 4v5h5M8 13h8M8 16.5h8',
  settings:
    'M4 7h9M17 7h3M4 17h3M11 17h9M15 9.5a2.5 2.5 0 1 0 0-5 2.5 2.5 0 0 0 0 5zM9 19.5a2.5 2.5 0 1 0 0-5 2.5 2.5 0 0 0 0 5z',
  undo: 'M8 5 4 9l4 4M4 9h9a6 6 0 0 1 0 12h-3',
  redo: 'M16 5l4 4-4 4M20 9h-9a6 6 0 0 0 0 12h3',
  leave: 'M4 20 15 9M13 7l4 4 3-3-4-4zM4 13h4M16 17h4M6 17h1M20 13h-1',
  search: 'M10.5 17a6.5 6.5 0 1 0 0-13 6.5 6.5 0 0 0 0 13zM15.5 15.5 21 21',
  plus: 'M12 5v14M5 12h14',
  minus: 'M5 12h14',
  whole: 'M4 9V4h5M15 4h5v5M20 15v5h-5M9 20H4v-5',
  tap: 'M12 3v3M12 18v3M3 12h3M18 12h3M12 15a3 3 0 1 0 0-6 3 3 0 0 0 0 6z',
  warn: 'M12 4 3 20h18zM12 10v5M12 17.5v.5',
  stop: 'M8 3h8l5 5v8l-5 5H8l-5-5V8zM12 7v6M12 16.5v.5',
  check: 'M4 12.5 9.5 18 20 6',
  arrow: 'M5 12h14M13 6l6 6-6 6',
  close: 'M6 6l12 12M18 6 6 18',
  bin: 'M5 7h14M10 4h4M7 7l1 13h8l1-13M10.5 11v5M13.5 11v5',
  save: 'M12 4v11M8 11l4 4 4-4M4 19h16',
  bring: 'M12 15V4M8 8l4-4 4 4M4 19h16',
  swap: 'M4 8h15M15 4l4 4-4 4M20 16H5M9 12l-4 4 4 4',
  menu: 'M4 7h16M4 12h16M4 17h16',
  back: 'M15 5l-7 7 7 7',
  yarn: 'M12 20a8 8 0 1 0 0-16 8 8 0 0 0 0 16zM5 9c5-2 11 2 13 8M8 5c5 1 9 5 10 10M4.500 13c4-1 8 2 10 6.500M18 18c1.500 1.500 3 1.500 3.500.500',
  ruler: 'M4 15 15 4l5 5L9 20zM8 11l2 2M11 8l3 3M14 5l2 2',
  tag: 'M4 4h8l8 8-8 8-8-8zM8.500 8.500h.010',
  print: 'M7 9V4h10v5M7 17H4V9h16v8h-3M7 14h10v6H7z',
  photos: 'M7 8h13v11H7zM4 15V5h12M7 16l4-4 3 3 2-2 4 4',
  magnet: 'M5 4v8a7 7 0 0 0 14 0V4h-4v8a3 3 0 0 1-6 0V4zM5 8h4M15 8h4',
} as const;
export type IconName = keyof typeof PATHS;
export const ICON_NAMES = Object.keys(PATHS) as readonly IconName[];

export function Icon({ name, size = 24 }: { readonly name: IconName; readonly size?: number }) {
  return (
    <svg width={size} height={size} viewBox="0 0 24 24" aria-hidden="true" className="icon">
      <path
        d={PATHS[name]}
        fill="none"
        stroke="currentColor"
        strokeWidth="2"
        strokeLinecap="round"
        strokeLinejoin="round"
      />
    </svg>
  );
}
