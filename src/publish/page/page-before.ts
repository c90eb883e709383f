/** What a paid plan's page says before one buys: what wood and hardware cost, which tools are needed, and what the package holds. */
import { capital, countWord } from '../../instructions/words.ts';
import type { Plan } from '../../model/types.ts';
import { labelsName } from '../pdf/labels-pdf.ts';
import { pdfName } from '../pdf/pdf.ts';
import { templatesName } from '../pdf/pdf-templates.ts';
import { editionsOnce, variantNamed } from '../variants.ts';
import { type Content, el, money } from './html.ts';
import { type PlanMatter, paperName, sheetCount, unitName } from './page-parts.ts';

/** What wood and hardware cost where the reader buys them, a block of rows for each variant. */
export function costs(matter: PlanMatter): Content {
  const { bundle } = matter;
  const rows = bundle.editions.map(({ finished }) => {
    const { shopping, plan } = finished;
    const names = [...new Set(plan.parts.map((part) => part.species))].sort().map((key) => {
      const name = plan.stockList.species.find((species) => species.key === key)?.name ?? key;
      return name.toLowerCase();
    });
    const whole = (cost: number): string => money(cost, shopping.currency, { round: true });
    return {
      variant: variantNamed(plan.variant)[0] ?? '',
      where: `${shopping.region}, ${names.join(' and ')}`,
      lumber: shopping.partial ? `${whole(shopping.lumberCost)} or more` : whole(shopping.lumberCost),
      hardware: shopping.hardwareCost > 0 ? whole(shopping.hardwareCost) : '',
    };
  });
  const hardware = rows.some((row) => row.hardware !== '');
  const revision = bundle.front.revisions[0]?.revision;
  return el(
    'div',
    {},
    el(
      'table.costs',
      {},
      el('caption', {}, 'Cost, about'),
      el(
        'thead',
        {},
        el(
          'tr',
          {},
          el('th', { scope: 'col' }, 'Where you buy'),
          el('th.n', { scope: 'col' }, 'Lumber'),
          hardware ? el('th.n', { scope: 'col' }, 'Hardware') : null,
        ),
      ),
      [...new Set(rows.map((row) => row.variant))].map((variant) =>
        el(
          'tbody',
          {},
          variant === ''
            ? null
            : el('tr', {}, el('th', { scope: 'rowgroup', colSpan: hardware ? 3 : 2 }, variant)),
          rows
            .filter((row) => row.variant === variant)
            .map((row) =>
              el(
                'tr',
                {},
                el('td', {}, row.where),
                el('td.n', {}, row.lumber),
                hardware ? el('td.n', {}, row.hardware) : null,
              ),
            ),
        ),
      ),
    ),
    revision === undefined
      ? null
      : el(
          'p.small.under',
          {},
          `Prices noted at revision ${revision}. Hardware is screws, fittings, glue and finish.`,
        ),
  );
}

/** Tools to have, in two columns. */
export function toolsNeeded(matter: PlanMatter): Content | null {
  const list = matter.bundle.editions[0]?.finished.instructions.tools ?? [];
  if (list.length === 0) return null;
  return el(
    'div',
    {},
    el('h3.cap.tools', {}, 'Tools'),
    el(
      'ul.plain.columns',
      {},
      list.map((tool) => el('li', {}, tool)),
    ),
  );
}

/** What the package holds, and how its sheets are meant. */
export function packageMatter(matter: PlanMatter): Content {
  const { bundle, pdfs } = matter;
  const sheets = bundle.editions.map(({ edition, finished: { plan } }) => {
    const count = sheetCount(pdfs.get(pdfName(plan)));
    const many = count === undefined ? '' : `${count} sheets, `;
    const unit = unitName(edition).toLowerCase();
    const [variant] = variantNamed(plan.variant);
    const named = variant === undefined ? `Plan in ${unit}` : `${variant}: plan in ${unit}`;
    return `${named}, ${many}${paperName(edition.paper)}`;
  });
  const steps = bundle.editions[0]?.finished.instructions.steps.length ?? 0;
  const some = (name: (plan: Plan) => string): boolean =>
    bundle.editions.some(({ finished }) => pdfs.has(name(finished.plan)));
  const contents = [
    steps === 1 ? 'One step, with its drawing' : '',
    steps > 1 ? `${capital(countWord(steps))} steps, each with its drawing` : '',
    'Cut list, cutting layouts, shopping list',
    some(templatesName) ? 'Full-size templates to print and stick on the wood' : '',
    some(labelsName) ? 'Labels to print and stick on the parts' : '',
    'Both lists and the settings of the saw as tables for a spreadsheet',
  ].filter((line) => line !== '');
  return el(
    'div.two',
    {},
    el(
      'ul.plain',
      {},
      [...sheets, ...contents].map((line) => el('li', {}, line)),
    ),
    el(
      'div',
      {},
      el(
        'p',
        {},
        'Each sheet prints in black on a home printer and keeps its meaning in grey. In each step, what you add is tinted and what already stands is grey.',
      ),
      editionsOnce(bundle).length > 1
        ? el(
            'p',
            {},
            'Each edition is worked out for the lumber of its own region, so that its parts come out of boards that are sold there.',
          )
        : null,
    ),
  );
}
