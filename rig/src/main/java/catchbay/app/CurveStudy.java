package catchbay.app;

import catchbay.app.NamedCatches.Measured;
import catchbay.metrology.CatchEvidence;
import catchbay.metrology.ConstantFit;
import catchbay.metrology.CurvePoint;
import catchbay.metrology.CutOff;
import catchbay.metrology.Diagnosis;
import catchbay.metrology.TruckConstant;
import catchbay.metrology.TruckCurve;
import catchbay.plan.CaughtPoint;
import catchbay.quantity.Pressure;
import catchbay.quantity.Speed;
import catchbay.record.CurveRules;
import catchbay.record.CurveText;
import catchbay.record.DocumentException;
import catchbay.run.RunSetup;
import catchbay.signal.PressureSense;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;

/** From measured catches, and what a person saw beside them, to a truck's curve and diagnosis. */
final class CurveStudy {

    /**
     * What a person saw during the catches, by run.
     *
     * @param shownSpeeds what the controller showed
     * @param coupler gauge pressures at the coupler, in place of what a run's own gauge told
     * @param strainer drops over the strainer
     * @param outletsShutBy who has seen that recirculation and every other outlet were shut
     */
    record Seen(
            Map<String, Speed> shownSpeeds,
            Map<String, Pressure> coupler,
            Map<String, Pressure> strainer,
            Optional<String> outletsShutBy) {}

    private final List<Measured> catches;
    private final CurveRules rules;
    private final Seen seen;

    CurveStudy(List<Measured> catches, CurveRules rules, Seen seen) {
        this.catches = catches;
        this.rules = rules;
        this.seen = seen;
    }

    /** What is told of the truck; refused where there are too few flows to tell anything. */
    CurveText.Told told(List<String> notes) {
        refuseStrangers();
        // The newest catch has the constant that is in the controller now.
        TruckConstant constant = catches.getLast().setup().truck().constant();
        List<CatchEvidence> evidence = catches.stream().map(this::evidence).toList();
        List<CurvePoint> points = new ArrayList<>();
        List<CurveText.Caught> caught = new ArrayList<>();
        for (int i = 0; i < catches.size(); i++) {
            Measured one = catches.get(i);
            boolean inCurve = evidence.get(i).disturbance().isEmpty() && !evidence.get(i).silent();
            if (inCurve) {
                points.add(CaughtPoint.of(one.name(), one.setup(), one.result()));
            }
            caught.add(
                    new CurveText.Caught(
                            one.name(), one.setup().day(), one.result().flow(), inCurve));
        }
        List<String> all = new ArrayList<>(notes);
        Optional<TruckCurve> curve =
                switch (TruckCurve.through(constant, points)) {
                    case TruckCurve.Drawing.Drawn(TruckCurve drawn) -> Optional.of(drawn);
                    case TruckCurve.Drawing.TooFew(String reason) -> {
                        if (points.size() == catches.size()) {
                            throw new DocumentException(reason);
                        }
                        all.add(Replay.sentence("Of the steady catches: " + reason));
                        yield Optional.empty();
                    }
                };
        all.addAll(remarks(curve));
        return new CurveText.Told(
                catches.getLast().setup().truck().asset(),
                catches.getLast().origin(),
                caught,
                constant,
                curve,
                curve.map(drawn -> ConstantFit.of(drawn, rules.mix())),
                rules.mix(),
                CutOff.of(evidence),
                Diagnosis.of(curve, rules.mix(), evidence, rules.limits(), seen.outletsShutBy),
                seen.outletsShutBy,
                all);
    }

    private List<String> remarks(Optional<TruckCurve> curve) {
        List<String> remarks = new ArrayList<>(NamedCatches.decided(catches));
        Set<String> numbers = new TreeSet<>();
        Set<String> liquids = new TreeSet<>();
        for (Measured one : catches) {
            TruckConstant constant = one.setup().truck().constant();
            numbers.add(constant.written(constant.value()));
            liquids.add(one.setup().liquid().name());
        }
        if (numbers.size() > 1) {
            remarks.add(
                    "The catches were made with "
                            + String.join(" and ", numbers)
                            + "; the newest is taken for the one that is entered now.");
        }
        if (liquids.size() > 1) {
            remarks.add(
                    "The catches were made with different liquids ("
                            + String.join(", ", liquids)
                            + "); a meter's constant may move with viscosity.");
        }
        if (curve.isPresent() && curve.get().scatter().degreesOfFreedom() == 0) {
            remarks.add(
                    "No flow was caught twice: of the meter's own scatter only what the settings"
                            + " plan for is in the band. Repeat at least one flow.");
        }
        if (catches.stream().anyMatch(CurveStudy::speedPlayed)) {
            remarks.add(
                    "The bay played the truck's speed sensor: the real one was not tested. Check"
                            + " it over a measured mile.");
        }
        return remarks;
    }

    private static boolean speedPlayed(Measured one) {
        return one.setup().asked().pulsesPerMile().isPresent();
    }

    /** What somebody saw belongs to a catch of this curve, and to one where it says something. */
    private void refuseStrangers() {
        for (Map<String, ?> notes : List.of(seen.shownSpeeds, seen.coupler, seen.strainer)) {
            for (String run : notes.keySet()) {
                if (catches.stream().noneMatch(one -> one.name().equals(run))) {
                    throw new DocumentException(
                            "run "
                                    + run
                                    + " has no part in this curve; its catches are "
                                    + String.join(
                                            ", ", catches.stream().map(Measured::name).toList()));
                }
            }
        }
        for (Measured one : catches) {
            if (seen.shownSpeeds.containsKey(one.name()) && !speedPlayed(one)) {
                throw new DocumentException(
                        "--shown-mph "
                                + one.name()
                                + ": the bay did not play the truck's speed in this run, so the"
                                + " speed shown says nothing; leave it out");
            }
        }
        boolean couplerJudged =
                rules.limits().couplerLeast().isPresent()
                        || rules.limits().couplerMost().isPresent();
        if (!seen.coupler.isEmpty() && !couplerJudged) {
            throw new DocumentException(
                    "a pressure at the coupler needs what is like the road; set"
                            + " curve.coupler_min_psi and curve.coupler_max_psi in the settings");
        }
        if (!seen.strainer.isEmpty() && rules.limits().strainerMost().isEmpty()) {
            throw new DocumentException(
                    "a drop over the strainer needs its limit; set curve.strainer_max_psi in the"
                            + " settings");
        }
    }

    private CatchEvidence evidence(Measured one) {
        RunSetup setup = one.setup();
        Optional<CatchEvidence.ShownSpeed> speed =
                Optional.ofNullable(seen.shownSpeeds.get(one.name()))
                        .map(shown ->
                                new CatchEvidence.ShownSpeed(
                                        shown,
                                        setup.asked().speed(),
                                        setup.asked().pulsesPerMile().orElseThrow()));
        return new CatchEvidence(
                one.name(),
                one.result().flow(),
                one.result().comparison(),
                setup.truck().control(),
                one.result().disturbance(),
                speedPlayed(one),
                speed,
                Optional.ofNullable(seen.coupler.get(one.name()))
                        .or(() -> one.result().coupler().map(PressureSense.InWindow::mean)),
                Optional.ofNullable(seen.strainer.get(one.name())));
    }
}
