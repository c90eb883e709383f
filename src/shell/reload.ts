/**
 * The script that `preview` adds to its pages, and no published page carries: it loads the page again when the site has
 * changed, lays the findings over it when a plan has a fault, and links a plan's sheets, paid ones too. Words are set as text, never as markup.
 */
export const RELOAD_SCRIPT = `(() => {
  const events = new EventSource('/-kerfleaf/events');
  let version;
  let cover;
  const make = (name, text, style) => {
    const item = document.createElement(name);
    item.textContent = text;
    item.style.cssText = style;
    return item;
  };
  const sheets = JSON.parse(document.currentScript.dataset.sheets);
  if (sheets.length > 0) {
    const bar = make('nav', 'Sheets, in this preview only: ', 'all:initial;position:fixed;left:12px;bottom:12px;z-index:2147483646;box-sizing:border-box;' +
      'max-width:calc(100vw - 24px);padding:8px 12px;background:#fdfcf8;border:1px solid #cfc9bd;font:14px/1.4 system-ui,sans-serif;color:#1f1c19');
    bar.setAttribute('aria-label', 'Sheets of this plan');
    for (const [at, sheet] of sheets.entries()) {
      if (at > 0) bar.append(' · ');
      const link = make('a', sheet.words, 'color:#27458f;cursor:pointer');
      link.href = sheet.name;
      link.target = '_blank';
      bar.append(link);
    }
    document.body.append(bar);
  }
  const show = (faults) => {
    cover?.remove();
    cover = undefined;
    if (faults.length === 0) return;
    cover = make('div', '', 'all:initial;position:fixed;inset:0;z-index:2147483647;overflow:auto;box-sizing:border-box;' +
      'padding:24px;background:rgba(31,28,25,.55);font:16px/1.45 system-ui,sans-serif;color:#1f1c19');
    cover.setAttribute('role', 'alertdialog');
    cover.setAttribute('aria-label', 'Faults in the shop');
    const sheet = make('div', '', 'max-width:860px;margin:0 auto;padding:20px 24px;background:#fdfcf8;border-top:6px solid #27458f');
    const errors = faults.filter((fault) => fault.severity === 'error').length;
    sheet.append(make('h1', errors === 1 ? 'One fault to put right' : errors + ' faults to put right', 'margin:0 0 4px;font:600 22px/1.2 Georgia,serif'));
    sheet.append(make('p', 'The page below is the last one without a fault. It comes back as soon as the file is saved right.', 'margin:0 0 16px;color:#57514a'));
    for (const fault of faults) {
      const item = make('div', '', 'margin:0 0 14px;padding:0 0 0 12px;border-left:3px solid #cfc9bd');
      item.append(make('div', fault.place, 'font:14px/1.4 ui-monospace,monospace;color:#27458f'));
      item.append(make('div', fault.severity + ': ' + fault.message, 'white-space:pre-wrap'));
      if (fault.hint) item.append(make('div', fault.hint, 'white-space:pre-wrap;color:#57514a'));
      sheet.append(item);
    }
    const button = make('button', 'See the page', 'font:inherit;padding:6px 14px;cursor:pointer');
    button.onclick = () => show([]);
    sheet.append(button);
    cover.append(sheet);
    document.body.append(cover);
    button.focus();
  };
  events.onmessage = (event) => {
    const state = JSON.parse(event.data);
    if (version !== undefined && state.version !== version) return location.reload();
    version = state.version;
    show(state.faults);
  };
})();
`;
