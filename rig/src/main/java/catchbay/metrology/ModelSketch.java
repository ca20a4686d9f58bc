package catchbay.metrology;

import catchbay.metrology.Input.Scope;
import catchbay.metrology.Input.Shape;

import java.util.ArrayList;
import java.util.List;

/**
 * A measurement model that is put together input by input: each quantity is a function of the
 * inputs named so far, and what two results share is one quantity that both use. Not thread-safe.
 */
public final class ModelSketch {

    /** A quantity as a function of the model's inputs. */
    @FunctionalInterface
    public interface Quantity {
        /** Its value for these inputs, in the order in which they were added. */
        double at(double[] inputs);
    }

    private final List<Input> inputs = new ArrayList<>();
    private final List<String> names = new ArrayList<>();
    private final List<Quantity> outputs = new ArrayList<>();

    /** A number that is taken to be known without error. */
    public static Quantity exactly(double value) {
        return inputs -> value;
    }

    /** A quantity that enters from outside. */
    public Quantity input(Input input) {
        int index = inputs.size();
        inputs.add(input);
        return inputs -> inputs[index];
    }

    /**
     * A quantity spread like a bell about its value, by Student's t where its standard uncertainty
     * is itself known from a few readings (JCGM 101:2008, 6.4.9); one without uncertainty is left
     * out of the inputs, so that no budget lists what plays no part.
     *
     * @param standard standard uncertainty in the unit of the value, >= 0
     * @param degreesOfFreedom at least 1 or infinite
     */
    public Quantity normal(
            String name, double value, double standard, double degreesOfFreedom, Scope scope) {
        Shape shape = Double.isInfinite(degreesOfFreedom) ? Shape.NORMAL : Shape.STUDENT;
        return uncertain(name, value, standard, degreesOfFreedom, shape, scope);
    }

    /** As {@link #normal}, known well. */
    public Quantity normal(String name, double value, double standard, Scope scope) {
        return normal(name, value, standard, Double.POSITIVE_INFINITY, scope);
    }

    /** A quantity that lies anywhere within its value +- the half-width, as {@link #normal}. */
    public Quantity even(String name, double value, double halfWidth, Scope scope) {
        return uncertain(
                name,
                value,
                halfWidth / Input.ROOT_3,
                Double.POSITIVE_INFINITY,
                Shape.RECTANGULAR,
                scope);
    }

    /** The difference of two readings, each within +- the half-width: a triangle. */
    public Quantity twoEven(String name, double value, double halfWidth, Scope scope) {
        return uncertain(
                name,
                value,
                2 * halfWidth / Input.ROOT_6,
                Double.POSITIVE_INFINITY,
                Shape.TRIANGULAR,
                scope);
    }

    private Quantity uncertain(
            String name,
            double value,
            double standard,
            double degreesOfFreedom,
            Shape shape,
            Scope scope) {
        return standard == 0
                ? exactly(value)
                : input(new Input(name, value, standard, degreesOfFreedom, shape, scope));
    }

    /** The value of a quantity when every input has its best value. */
    public double best(Quantity quantity) {
        return quantity.at(inputs.stream().mapToDouble(Input::value).toArray());
    }

    /** Names a quantity as a result. */
    public void output(String name, Quantity quantity) {
        names.add(name);
        outputs.add(quantity);
    }

    /** Everything put together: what {@link Budget} and {@link MonteCarlo} propagate. */
    public Sketched sketched() {
        List<Quantity> all = List.copyOf(outputs);
        return new Sketched(
                List.copyOf(inputs),
                List.copyOf(names),
                values -> {
                    double[] results = new double[all.size()];
                    for (int i = 0; i < results.length; i++) {
                        results[i] = all.get(i).at(values);
                    }
                    return results;
                });
    }

    /**
     * A whole model.
     *
     * @param inputs what enters
     * @param outputs the names of what comes out
     * @param model how
     */
    public record Sketched(List<Input> inputs, List<String> outputs, Model model) {
        /** Its budget. */
        public Budget budget() {
            return Budget.of(inputs, outputs, model);
        }
    }
}
