package catchbay.metrology;

import java.util.HashSet;
import java.util.List;
import java.util.Set;

/**
 * A model with its inputs and the names of its outputs, checked to fit together; asks the model and
 * refuses an answer that is none.
 */
record Evaluation(List<Input> inputs, List<String> outputs, Model model) {

    Evaluation {
        inputs = List.copyOf(inputs);
        outputs = List.copyOf(outputs);
        if (outputs.isEmpty()) {
            throw new IllegalArgumentException("a model needs at least one output, has none");
        }
        refuseRepeated("input", inputs.stream().map(Input::name).toList());
        refuseRepeated("output", outputs);
    }

    private static void refuseRepeated(String what, List<String> names) {
        Set<String> seen = new HashSet<>();
        for (String name : names) {
            if (!seen.add(name)) {
                throw new IllegalArgumentException(
                        what
                                + " '"
                                + name
                                + "' is there twice; what two results share is one input, and"
                                + " different ones need different names");
            }
        }
    }

    /** The best values of all inputs, in a new array. */
    double[] values() {
        return inputs.stream().mapToDouble(Input::value).toArray();
    }

    /**
     * What the model makes of these inputs.
     *
     * @param where which point this is, for the refusal
     */
    double[] at(double[] point, String where) {
        double[] values = model.outputs(point);
        if (values.length != outputs.size()) {
            throw new IllegalArgumentException(
                    "the model gave "
                            + values.length
                            + " numbers for the "
                            + outputs.size()
                            + " outputs "
                            + outputs);
        }
        for (int i = 0; i < values.length; i++) {
            if (!Double.isFinite(values[i])) {
                throw new IllegalArgumentException(
                        "the model gives '"
                                + outputs.get(i)
                                + "' as "
                                + values[i]
                                + " at "
                                + where
                                + "; an input is too uncertain for this model, or out of its"
                                + " range");
            }
        }
        return values;
    }
}
