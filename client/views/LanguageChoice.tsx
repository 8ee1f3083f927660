import { LANGUAGES, type Language } from '../../pattern/language.ts';
import type { Session } from '../state/session.ts';
import { language, t } from '../strings/index.ts';
import { keepLanguage, LANGUAGE_NAMES } from '../strings/language.ts';
import { useSession } from './shared/hooks.ts';

/** Words are read once: the page is loaded anew when what was done is safe. */
async function speak(session: Session, chosen: Language): Promise<void> {
  keepLanguage(chosen);
  session.autosave.keepHere();
  await session.autosave.flush();
  location.reload();
}

/** The language of the page; each is named in its own words, for whoever can't read the one shown. */
export function LanguageChoice() {
  const session = useSession();
  return (
    <label class="theme">
      <span class="sr">{t.header.language}</span>
      <select
        value={language}
        onChange={(event) => {
          const chosen = LANGUAGES.find((entry) => entry === event.currentTarget.value);
          if (chosen && chosen !== language) void speak(session, chosen);
        }}
      >
        {LANGUAGES.map((value) => (
          <option key={value} value={value} lang={value} selected={value === language}>
            {LANGUAGE_NAMES[value]}
          </option>
        ))}
      </select>
    </label>
  );
}
