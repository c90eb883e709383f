/**
 * The one file that names the optimiser, HiGHS in WebAssembly. What the layouts need of it, and no more: a linear programme that
 * grows by columns and gives its duals, and an integer programme that stops on nodes and gap, never on the clock, so that the
 * same job gives the same layout on every machine.
 */
import type { Highs, Model } from 'highs';

/** A variable: its cost, its bounds, and its coefficients in the rows. */
export interface Column {
  readonly cost: number;
  /** 0 where absent. */
  readonly lower?: number;
  /** No limit where absent. */
  readonly upper?: number;
  readonly rows: readonly number[];
  readonly values: readonly number[];
}

/** A constraint: lower ≤ activity ≤ upper; a side that is absent is open. */
export interface Row {
  readonly lower?: number;
  readonly upper?: number;
}

/** An optimum of a linear programme. */
export interface LinearOptimum {
  readonly objective: number;
  readonly values: Float64Array;
  /** One a row: what one unit more of its right-hand side costs. */
  readonly duals: Float64Array;
}

/** A linear programme (minimum) kept in the solver, so that it goes on from its last basis after columns were added. */
export interface LinearProgramme {
  add(columns: readonly Column[]): void;
  /** The optimum; nothing where there is none or the solver gave up. */
  solve(): LinearOptimum | undefined;
  /** Gives the memory back; the programme can't be used afterwards. */
  dispose(): void;
}

/** When to stop an integer search. */
export interface SearchLimits {
  /** Nodes of the branch-and-bound tree. */
  readonly nodes: number;
  /** Pivots of all its linear programmes. */
  readonly pivots: number;
  /** Stop when the answer is this near to the bound, in units of the objective. */
  readonly gap: number;
  /** Stop at once when an answer costs no more than this. */
  readonly target?: number;
  /** The start is likely the best there is: spend the work on the bound and not on looking for better ones. */
  readonly prove?: boolean;
}

/** What an integer search found. */
export interface IntegerAnswer {
  /** optimal: proved within the gap. stopped: a limit or the target came first. impossible: no solution exists. */
  readonly status: 'optimal' | 'stopped' | 'impossible';
  /** Best solution found. */
  readonly values?: Float64Array;
  readonly objective?: number;
  /** Lower bound on the objective. */
  readonly bound: number;
}

/** An integer programme (minimum). All columns are integer but those listed as continuous. */
export interface IntegerProgramme {
  readonly rows: readonly Row[];
  readonly columns: readonly Column[];
  readonly continuous?: readonly number[];
  /** A solution known before, to start from. */
  readonly start?: readonly number[];
}

/** The optimiser, loaded. */
export interface Solver {
  linear(rows: readonly Row[]): LinearProgramme;
  integer(programme: IntegerProgramme, limits: SearchLimits): IntegerAnswer;
}

const OPTIMAL = 7;
const INFEASIBLE = 8;
const UNBOUNDED_OR_INFEASIBLE = 9;
/** The channel on which a search asks whether to go on. */
const MIP_INTERRUPT = 6;

/** The limit of pivots in one linear solve: far more than a layout needs, so that nothing hangs. */
const PIVOTS = 200_000;

let loading: Promise<Solver> | undefined;

/** Loads the optimiser once in a process. */
export function loadSolver(): Promise<Solver> {
  loading ??= load().then(solverOf);
  return loading;
}

async function load(): Promise<Highs> {
  const module = await import('highs');
  // the package's types are written for CommonJS; imported as a module its default is the loader itself
  const open = module.default as unknown as () => Promise<Highs>;
  return open();
}

function solverOf(highs: Highs): Solver {
  const open = (): Model => {
    const model = highs.createModel();
    model.options.set({ output_flag: false, random_seed: 0, simplex_iteration_limit: PIVOTS });
    return model;
  };
  return {
    linear: (rows) => linear(open(), rows),
    integer: (programme, limits) => integer(open(), programme, limits),
  };
}

function addRows(model: Model, rows: readonly Row[]): void {
  for (const row of rows)
    model.addRow(row.lower ?? -Infinity, row.upper ?? Infinity, { indices: [], values: [] });
}

function addColumns(model: Model, columns: readonly Column[], rows: number): void {
  const starts = [0];
  const indices: number[] = [];
  const values: number[] = [];
  for (const column of columns) {
    for (const row of column.rows) indices.push(row);
    for (const value of column.values) values.push(value);
    starts.push(indices.length);
  }
  model.addCols({
    cost: Float64Array.from(columns, (column) => column.cost),
    lower: Float64Array.from(columns, (column) => column.lower ?? 0),
    upper: Float64Array.from(columns, (column) => column.upper ?? Infinity),
    matrix: {
      format: 'csc',
      numRows: rows,
      numCols: columns.length,
      starts: Int32Array.from(starts),
      indices: Int32Array.from(indices),
      values: Float64Array.from(values),
    },
  });
}

function linear(model: Model, rows: readonly Row[]): LinearProgramme {
  addRows(model, rows);
  return {
    add: (columns) => {
      if (columns.length > 0) addColumns(model, columns, rows.length);
    },
    solve: () => {
      model.run();
      if (model.getModelStatus() !== OPTIMAL) return undefined;
      const solution = model.getSolution();
      return { objective: model.getObjectiveValue(), values: solution.colValue, duals: solution.rowDual };
    },
    dispose: () => model.dispose(),
  };
}

function integer(model: Model, programme: IntegerProgramme, limits: SearchLimits): IntegerAnswer {
  try {
    addRows(model, programme.rows);
    addColumns(model, programme.columns, programme.rows.length);
    const kinds = new Int32Array(programme.columns.length).fill(1);
    for (const index of programme.continuous ?? []) kinds[index] = 0;
    model.changeColsIntegrality({ kind: 'range', from: 0, to: programme.columns.length - 1 }, kinds);
    model.options.set({
      mip_max_nodes: limits.nodes,
      mip_abs_gap: limits.gap,
      mip_rel_gap: 0,
      // it costs time on these models and finds nothing that the start doesn't have
      mip_heuristic_run_feasibility_jump: false,
      mip_detect_symmetry: false,
      ...(limits.prove === true ? { mip_heuristic_effort: 0, mip_allow_restart: false } : {}),
      ...(limits.target === undefined ? {} : { objective_target: limits.target }),
    });
    if (programme.start !== undefined) model.setSolution({ colValue: [...programme.start] });
    let spent = 0;
    model.run({
      [MIP_INTERRUPT]: (event) => {
        spent = Number(event.data.mip_total_lp_iterations ?? 0);
        if (spent > limits.pivots) event.interrupt();
        return undefined;
      },
    });
    const status = model.getModelStatus();
    if (status === INFEASIBLE || status === UNBOUNDED_OR_INFEASIBLE)
      return { status: 'impossible', bound: Infinity };
    const bound = Number(model.info.get('mip_dual_bound'));
    const found = Number(model.info.get('primal_solution_status')) === 2;
    return {
      status: status === OPTIMAL ? 'optimal' : 'stopped',
      bound: Number.isFinite(bound) ? bound : -Infinity,
      ...(found ? { values: model.getSolution().colValue, objective: model.getObjectiveValue() } : {}),
    };
  } finally {
    model.dispose();
  }
}
