package catchbay.plan;

import catchbay.metrology.Certificate;
import catchbay.metrology.ReferenceCurve;
import catchbay.quantity.FlowRate;
import catchbay.run.ExpectedCatch;
import catchbay.run.RunSetup;
import catchbay.run.RunSetup.MeasureBy;

import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.function.UnaryOperator;
import java.util.stream.Collectors;

/**
 * The ways in which a bay can measure a truck: by each of its reference meters, and by its scale,
 * with a meter beside it or with none.
 *
 * @param usual the setup that its settings describe first
 * @param ways at least one where anything is fitted; those of one instrument are together
 */
public record Ways(RunSetup usual, List<Way> ways) {

    public Ways {
        ways = List.copyOf(ways);
    }

    /**
     * One of them.
     *
     * @param reference name of the meter, where the bay's meters have names
     * @param setup with this meter or none, and with what it is measured by
     */
    public record Way(Optional<String> reference, RunSetup setup) {

        private MeasureBy by() {
            return setup.plan().measureBy();
        }

        /** By what it is measured, in a word or the meter's name. */
        public String name() {
            return switch (by()) {
                case SCALE -> "scale";
                case REFERENCE -> reference.orElse("reference");
            };
        }

        private boolean certifiedAt(FlowRate flow) {
            return setup.reference()
                    .map(RunSetup.Reference::curve)
                    .filter(curve ->
                            flow.compareTo(curve.lowest()) >= 0
                                    && flow.compareTo(curve.highest()) <= 0)
                    .isPresent();
        }

        private boolean outOfDate() {
            return setup.reference()
                    .map(meter -> meter.certificate().refusalOn(setup.day()))
                    .isPresent();
        }

        /** Expanded uncertainty of the certificate at a flow, as a ratio. */
        private double uncertaintyAt(FlowRate flow) {
            RunSetup.Reference meter = setup.reference().orElseThrow();
            Certificate certificate = meter.certificate();
            double rate = ExpectedCatch.pulsesPerSecond(meter.curve(), flow);
            return switch (meter.curve().at(rate)) {
                case ReferenceCurve.Reading.InRange in ->
                        in.expanded()
                                .map(ratio -> ratio.value())
                                .orElse(certificate.relativeExpandedUncertainty());
                case ReferenceCurve.Reading.OutOfRange _ ->
                        certificate.relativeExpandedUncertainty();
            };
        }

        private double pulsesPerSecondAt(FlowRate flow) {
            return ExpectedCatch.pulsesPerSecond(setup.reference().orElseThrow().curve(), flow);
        }

        private String range() {
            ReferenceCurve curve = setup.reference().orElseThrow().curve();
            return name()
                    + " from "
                    + Figures.flow(curve.lowest())
                    + " to "
                    + Figures.flow(curve.highest());
        }
    }

    /** What a choice among the ways comes to. */
    public sealed interface Choice {
        /** One that will do, as far as its range is concerned. */
        record Found(Way way) implements Choice {}

        /** None, in a sentence. */
        record None(String sentence) implements Choice {}
    }

    /** The same ways, each setup changed alike. */
    public Ways each(UnaryOperator<RunSetup> change) {
        return new Ways(
                change.apply(usual),
                ways.stream().map(way -> new Way(way.reference, change.apply(way.setup))).toList());
    }

    /** Today's form of a way that was chosen on another day; the usual one where it is gone. */
    public RunSetup today(Way chosen) {
        return ways.stream()
                .filter(way -> way.reference.equals(chosen.reference) && way.by() == chosen.by())
                .findFirst()
                .map(Way::setup)
                .orElse(usual);
    }

    /** The ways of a bay with this setup only. */
    public static Ways of(RunSetup only) {
        return new Ways(only, List.of(new Way(Optional.empty(), only)));
    }

    /**
     * The best way to measure a flow: of the meters certified at it the one with the smallest
     * uncertainty there, of equals the one with the most pulses. One whose certificate is out of
     * date comes after all others. A meter that is named is taken, whatever its range; the check of
     * its setup judges that.
     *
     * @param by what is to measure
     * @param reference the meter, by its name; empty = the best
     */
    public Choice at(FlowRate flow, MeasureBy by, Optional<String> reference) {
        List<Way> fitted = ways.stream().filter(way -> way.by() == by).toList();
        List<Way> able =
                fitted.stream()
                        .filter(way -> reference.isEmpty() || way.reference.equals(reference))
                        .toList();
        if (able.isEmpty()) {
            return new Choice.None(unfitted(by, reference));
        }
        if (reference.isPresent() || able.size() == 1) {
            return new Choice.Found(able.getFirst());
        }
        return able.stream()
                .filter(way -> way.certifiedAt(flow))
                .min(
                        Comparator.comparing(Way::outOfDate)
                                .thenComparingDouble(way -> way.uncertaintyAt(flow))
                                .thenComparingDouble(way -> -way.pulsesPerSecondAt(flow)))
                .or(() -> able.stream().filter(way -> way.setup.reference().isEmpty()).findFirst())
                .<Choice>map(Choice.Found::new)
                .orElseGet(() -> new Choice.None(uncertified(flow, able)));
    }

    /**
     * Whether a flow is within what can be measured, as far as ranges tell: one of the meters is
     * certified at it, or what measures has no such range.
     */
    public boolean reach(FlowRate flow, MeasureBy by) {
        List<Way> metered = metered();
        return by == MeasureBy.SCALE
                || metered.isEmpty()
                || metered.stream().anyMatch(way -> way.certifiedAt(flow));
    }

    /** From which flow to which each reference meter is certified. */
    public String ranges() {
        return metered().stream().map(Way::range).collect(Collectors.joining(", "));
    }

    private List<Way> metered() {
        return ways.stream()
                .filter(way -> way.by() == MeasureBy.REFERENCE)
                .filter(way -> way.setup.reference().isPresent())
                .toList();
    }

    private String unfitted(MeasureBy by, Optional<String> reference) {
        if (reference.isPresent()) {
            String names =
                    ways.stream()
                            .flatMap(way -> way.reference.stream())
                            .distinct()
                            .collect(Collectors.joining(", "));
            return "The bay has no reference meter called '"
                    + reference.get()
                    + "'; "
                    + (names.isEmpty()
                            ? "its meters have no names, so leave the name out."
                            : "name one of " + names + ".");
        }
        return switch (by) {
            case SCALE -> "The bay has no scale to measure by; measure by reference.";
            case REFERENCE -> "The bay has no reference meter to measure by; measure by scale.";
        };
    }

    private static String uncertified(FlowRate flow, List<Way> able) {
        return "No reference meter is certified at the asked "
                + Figures.flow(flow)
                + ": "
                + able.stream().map(Way::range).collect(Collectors.joining(", "))
                + "; ask for a flow within one of these ranges, or measure by scale.";
    }
}
