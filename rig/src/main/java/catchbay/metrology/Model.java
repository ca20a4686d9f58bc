package catchbay.metrology;

/**
 * A measurement model (JCGM 100:2008, 4.1): how the quantities wanted follow from those known. A
 * pure function: the same inputs always give the same outputs, and nothing else changes. Both ways
 * of propagating uncertainty, {@link Budget} and {@link MonteCarlo}, go through the same model.
 */
@FunctionalInterface
public interface Model {

    /**
     * The outputs for these inputs.
     *
     * @param inputs one number for each input, in the order and the unit of the inputs; not kept
     *     and not changed
     * @return one number for each output, always as many, in a new array
     */
    double[] outputs(double[] inputs);
}
