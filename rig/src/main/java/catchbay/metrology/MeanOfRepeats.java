package catchbay.metrology;

import catchbay.metrology.Budget.Cause;
import catchbay.metrology.Budget.Output;
import catchbay.metrology.Budget.Repeat;
import catchbay.metrology.Input.Scope;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/** Sorts the inputs of repeats by the independent causes behind them; see {@link Budget#ofMean}. */
final class MeanOfRepeats {

    /**
     * Which cause an input is in a repeat.
     *
     * @param occasion what distinguishes independent causes of one input: the repeat's index, its
     *     day, or for the whole bay nothing
     */
    private record Key(String input, Object occasion) {}

    /** What a cause does to the mean, gathered over the repeats that share it. */
    private static final class Sum {
        private final int input;
        private final double[] effects;
        private double standard;

        Sum(int input, int outputs) {
            this.input = input;
            this.effects = new double[outputs];
        }
    }

    private final List<Repeat> repeats;
    private final List<String> names;
    private final Map<String, Integer> indices = new LinkedHashMap<>();
    private final List<Input> inputs = new ArrayList<>();
    private final Map<Key, Sum> sums = new LinkedHashMap<>();

    private MeanOfRepeats(List<Repeat> repeats) {
        this.repeats = repeats;
        if (repeats.isEmpty()) {
            throw new IllegalArgumentException("a mean needs at least one run, there is none");
        }
        this.names = namesOf(repeats.getFirst().budget());
    }

    static Budget budget(List<Repeat> repeats) {
        MeanOfRepeats mean = new MeanOfRepeats(List.copyOf(repeats));
        for (int r = 0; r < repeats.size(); r++) {
            mean.take(r);
        }
        return mean.assembled();
    }

    private static List<String> namesOf(Budget budget) {
        return budget.outputs().stream().map(Output::name).toList();
    }

    private void take(int repeat) {
        Budget budget = repeats.get(repeat).budget();
        if (!namesOf(budget).equals(names)) {
            throw new IllegalArgumentException(
                    "runs of different outputs have no mean: " + names + " and " + namesOf(budget));
        }
        if (!budget.ofOneRun()) {
            throw new IllegalArgumentException(
                    "a mean cannot be averaged again; average the runs themselves");
        }
        double weight = 1.0 / repeats.size();
        for (int i = 0; i < budget.inputs().size(); i++) {
            Input input = budget.inputs().get(i);
            int index = indexOf(input);
            Key key = new Key(input.name(), occasion(input.scope(), repeat));
            Sum sum = sums.computeIfAbsent(key, _ -> new Sum(index, names.size()));
            sum.standard += weight * input.standard();
            for (int o = 0; o < names.size(); o++) {
                sum.effects[o] += weight * budget.effect(o, i);
            }
        }
    }

    private Object occasion(Scope scope, int repeat) {
        return switch (scope) {
            case RUN -> repeat;
            case DAY -> repeats.get(repeat).day();
            case BAY -> Scope.BAY;
        };
    }

    /** The index of this input among those of all repeats, with the fewest degrees of freedom. */
    private int indexOf(Input input) {
        Integer known = indices.putIfAbsent(input.name(), inputs.size());
        if (known == null) {
            inputs.add(input);
            return inputs.size() - 1;
        }
        Input first = inputs.get(known);
        // An exact input has no cause, so its scope means nothing.
        boolean bothUncertain = first.standard() > 0 && input.standard() > 0;
        if (bothUncertain && first.scope() != input.scope()) {
            throw new IllegalArgumentException(
                    "input '"
                            + input.name()
                            + "' is shared by "
                            + first.scope()
                            + " in one run and by "
                            + input.scope()
                            + " in another; give it one scope");
        }
        // What is exact here and uncertain there is uncertain in the mean.
        if (input.degreesOfFreedom() < first.degreesOfFreedom()
                || (first.standard() == 0 && input.standard() > 0)) {
            inputs.set(known, input);
        }
        return known;
    }

    private Budget assembled() {
        double[] values = new double[names.size()];
        for (Repeat repeat : repeats) {
            for (int o = 0; o < values.length; o++) {
                values[o] += repeat.budget().outputs().get(o).value() / repeats.size();
            }
        }
        List<Cause> causes = new ArrayList<>();
        double[][] effects = new double[values.length][sums.size()];
        for (Sum sum : sums.values()) {
            for (int o = 0; o < values.length; o++) {
                effects[o][causes.size()] = sum.effects[o];
            }
            causes.add(new Cause(sum.input, sum.standard));
        }
        return Budget.assembled(List.copyOf(inputs), names, values, causes, effects);
    }
}
