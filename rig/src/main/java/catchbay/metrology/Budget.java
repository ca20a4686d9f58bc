package catchbay.metrology;

import catchbay.metrology.Input.Scope;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/**
 * The uncertainty budget of a measurement: the law of propagation of uncertainty (JCGM 100:2008,
 * 5.1.2) for independent inputs and any number of outputs. What two outputs share is seen in their
 * covariance (F.1.2.3 and H.2.3, from memory). Immutable.
 */
public final class Budget {

    /**
     * One input's part in one output.
     *
     * @param name the input's name
     * @param scope what repeats share it
     * @param standard standard uncertainty of the input, or of its mean over the repeats, in the
     *     input's unit; >= 0
     * @param degreesOfFreedom of that standard uncertainty; at least 1 or infinite
     * @param sensitivity what the output changes by per unit of the input, or the mean of it over
     *     the repeats; 0 for an exact input, whose sensitivity nobody needs
     * @param contribution standard uncertainty it gives to the output, in the output's unit; >= 0
     * @param share its part of the output's variance, 0 to 1
     */
    public record Row(
            String name,
            Scope scope,
            double standard,
            double degreesOfFreedom,
            double sensitivity,
            double contribution,
            double share) {}

    /**
     * One result with its uncertainty, in the unit of the model's output.
     *
     * @param name what it is
     * @param value its best value, finite
     * @param standard combined standard uncertainty, >= 0
     * @param degreesOfFreedom effective, by Welch-Satterthwaite, not truncated; at least 1
     * @param coverageFactor k for {@link Coverage#PROBABILITY}: Student's t of the truncated
     *     degrees of freedom, or that of the propagated shapes
     * @param distribution how it is spread about its best value
     * @param rows one for each input, in the order of the inputs
     */
    public record Output(
            String name,
            double value,
            double standard,
            double degreesOfFreedom,
            double coverageFactor,
            ResultDistribution distribution,
            List<Row> rows) {

        /** A result spread as Student's t, by a coverage factor of the caller's. */
        Output(
                String name,
                double value,
                double standard,
                double degreesOfFreedom,
                double coverageFactor,
                List<Row> rows) {
            this(
                    name,
                    value,
                    standard,
                    degreesOfFreedom,
                    coverageFactor,
                    ResultDistribution.student(degreesOfFreedom),
                    rows);
        }

        public Output {
            if (!Double.isFinite(value)
                    || !(standard >= 0 && standard < Double.POSITIVE_INFINITY)
                    || !(degreesOfFreedom >= 1)
                    || !(coverageFactor > 0)) {
                throw new IllegalArgumentException(
                        "result '"
                                + name
                                + "' needs a finite value, an uncertainty >= 0, at least 1 degree"
                                + " of freedom and k > 0, got "
                                + value
                                + ", "
                                + standard
                                + ", "
                                + degreesOfFreedom
                                + ", "
                                + coverageFactor);
            }
            rows = List.copyOf(rows);
        }

        /** Half-width of the interval that holds the quantity with 95 % probability: k u. */
        public double expanded() {
            return coverageFactor * standard;
        }

        /**
         * Whether its interval comes from the shapes of its causes, because flat ones lead, and not
         * from Student's t.
         */
        public boolean propagated() {
            return distribution.propagated();
        }

        /** Half-width of the interval of another coverage probability, between 0 and 1. */
        public double expanded(double probability) {
            return distribution.factor(probability) * standard;
        }
    }

    /**
     * One of several repeats of a measurement.
     *
     * @param day the day it was made on; repeats of one day share the inputs of scope DAY
     * @param budget its own budget
     */
    public record Repeat(LocalDate day, Budget budget) {}

    /**
     * An independent cause of uncertainty: an input, or one of the several independent times that a
     * mean of repeats draws it.
     *
     * @param input the index of the input
     * @param standard the standard uncertainty of this cause, in the input's unit; >= 0
     */
    record Cause(int input, double standard) {}

    private final List<Input> inputs;
    private final List<Output> outputs;

    /** By output, then by cause: how much one standard uncertainty of the cause changes it. */
    private final double[][] effects;

    private Budget(List<Input> inputs, List<Output> outputs, double[][] effects) {
        this.inputs = inputs;
        this.outputs = outputs;
        this.effects = effects;
    }

    /**
     * The budget of a model. Sensitivities are {@code [f(x+u) - f(x-u)] / 2u}, one input at a time
     * (JCGM 100:2008, 5.1.3 NOTE 2), so that they hold over the width of the input and not only at
     * its centre.
     *
     * @param inputs the model's inputs, in its order, with different names
     * @param outputs the names of the model's outputs, in its order; at least one, all different
     */
    public static Budget of(List<Input> inputs, List<String> outputs, Model model) {
        Evaluation evaluation = new Evaluation(inputs, outputs, model);
        double[] best = evaluation.values();
        double[] values = evaluation.at(best.clone(), "the best values");
        double[][] effects = new double[outputs.size()][inputs.size()];
        List<Cause> causes = new ArrayList<>();
        for (int i = 0; i < inputs.size(); i++) {
            Input input = inputs.get(i);
            causes.add(new Cause(i, input.standard()));
            if (input.standard() == 0) {
                continue;
            }
            double[] beside = best.clone();
            beside[i] = input.value() + input.standard();
            double[] above = evaluation.at(beside, "'" + input.name() + "' + u");
            beside = best.clone();
            beside[i] = input.value() - input.standard();
            double[] below = evaluation.at(beside, "'" + input.name() + "' - u");
            for (int o = 0; o < values.length; o++) {
                effects[o][i] = (above[o] - below[o]) / 2;
            }
        }
        return assembled(evaluation.inputs(), evaluation.outputs(), values, causes, effects);
    }

    /**
     * The budget of the mean of repeats, each with the same weight. An input of scope RUN is an
     * independent cause in each repeat, one of scope DAY on each day, one of scope BAY is one cause
     * of all of them; so only what really comes out anew is divided by the root of its number (what
     * is common correlates fully, JCGM 100:2008, 5.2.2 NOTE 1). However often an input comes out
     * anew, its standard uncertainty is known only as well as once: its degrees of freedom stay
     * those of the input, the fewest where repeats differ.
     *
     * <p>The scatter of the repeats' own values is not looked at here: it is an input of scope RUN
     * in each of the budgets, of which {@link Scatter} says where its size may come from.
     *
     * @param repeats at least one, all with the same outputs; an input missing in a repeat adds
     *     nothing there
     */
    public static Budget ofMean(List<Repeat> repeats) {
        return MeanOfRepeats.budget(repeats);
    }

    /** The same budget with these of its results only, in this order. */
    public Budget only(List<String> names) {
        List<Output> kept = names.stream().map(this::output).toList();
        double[][] theirs =
                names.stream().map(name -> effects[indexOf(name)]).toArray(double[][]::new);
        return new Budget(inputs, kept, theirs);
    }

    /** The inputs, in their order; for a mean, each as in the repeat that knows it least. */
    public List<Input> inputs() {
        return inputs;
    }

    /** The results, in the order of the model's outputs. */
    public List<Output> outputs() {
        return outputs;
    }

    /** The result of that name; fails with a sentence that lists the known ones. */
    public Output output(String name) {
        return outputs.get(indexOf(name));
    }

    /**
     * Covariance of two results, in the product of their units: the sum over all independent causes
     * of what each does to the one times what it does to the other. Of a result with itself: its
     * variance.
     */
    public double covariance(String one, String other) {
        double[] ofOne = effects[indexOf(one)];
        double[] ofOther = effects[indexOf(other)];
        double sum = 0;
        for (int i = 0; i < ofOne.length; i++) {
            sum += ofOne[i] * ofOther[i];
        }
        return sum;
    }

    /**
     * Correlation coefficient of two results, -1 to 1; 0 where one of them has no uncertainty at
     * all.
     */
    public double correlation(String one, String other) {
        double product = output(one).standard() * output(other).standard();
        return product == 0 ? 0 : Math.clamp(covariance(one, other) / product, -1.0, 1.0);
    }

    /** Budgets are equal when the same inputs do the same to the same results. */
    @Override
    public boolean equals(Object other) {
        return other instanceof Budget budget
                && inputs.equals(budget.inputs)
                && outputs.equals(budget.outputs)
                && Arrays.deepEquals(effects, budget.effects);
    }

    @Override
    public int hashCode() {
        return 31 * inputs.hashCode() + outputs.hashCode();
    }

    @Override
    public String toString() {
        return "Budget" + outputs;
    }

    private int indexOf(String name) {
        for (int i = 0; i < outputs.size(); i++) {
            if (outputs.get(i).name().equals(name)) {
                return i;
            }
        }
        throw new IllegalArgumentException(
                "no output '"
                        + name
                        + "' in this budget; use one of "
                        + outputs.stream().map(Output::name).toList());
    }

    /** How much the cause of that index changes the output of that index. */
    double effect(int output, int cause) {
        return effects[output][cause];
    }

    /** Whether each input is one cause, as in the budget of a single run. */
    boolean ofOneRun() {
        return effects[0].length == inputs.size();
    }

    /** The budget of these causes; each output's rows gather the causes of each input. */
    static Budget assembled(
            List<Input> inputs,
            List<String> names,
            double[] values,
            List<Cause> causes,
            double[][] effects) {
        List<Output> outputs = new ArrayList<>();
        for (int o = 0; o < values.length; o++) {
            outputs.add(output(names.get(o), values[o], inputs, causes, effects[o]));
        }
        return new Budget(inputs, List.copyOf(outputs), effects);
    }

    private static Output output(
            String name, double value, List<Input> inputs, List<Cause> causes, double[] effects) {
        double[] variances = new double[inputs.size()];
        double[] squares = new double[inputs.size()];
        double[] products = new double[inputs.size()];
        double variance = 0;
        for (int c = 0; c < effects.length; c++) {
            Cause cause = causes.get(c);
            variances[cause.input()] += effects[c] * effects[c];
            squares[cause.input()] += cause.standard() * cause.standard();
            products[cause.input()] += effects[c] * cause.standard();
            variance += effects[c] * effects[c];
        }
        List<Row> rows = new ArrayList<>();
        for (int i = 0; i < variances.length; i++) {
            Input input = inputs.get(i);
            rows.add(
                    new Row(
                            input.name(),
                            input.scope(),
                            Math.sqrt(squares[i]),
                            input.degreesOfFreedom(),
                            squares[i] == 0 ? 0 : products[i] / squares[i],
                            Math.sqrt(variances[i]),
                            variance == 0 ? 0 : variances[i] / variance));
        }
        double effective =
                Coverage.effectiveDegreesOfFreedom(
                        variances, inputs.stream().mapToDouble(Input::degreesOfFreedom).toArray());
        ResultDistribution distribution =
                ResultDistribution.of(
                        effects,
                        causes.stream()
                                .map(cause -> inputs.get(cause.input()).shape())
                                .toArray(Input.Shape[]::new),
                        effective);
        return new Output(
                name,
                value,
                Math.sqrt(variance),
                effective,
                distribution.factor(Coverage.PROBABILITY),
                distribution,
                rows);
    }
}
