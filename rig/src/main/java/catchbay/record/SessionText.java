package catchbay.record;

import catchbay.metrology.DecisionRule;
import catchbay.metrology.Tolerance;
import catchbay.quantity.Ratio;
import catchbay.run.Judgement;
import catchbay.run.Session;

import com.fasterxml.jackson.databind.node.ObjectNode;

/** The sections {@code verdict} and {@code session} of a setup. */
final class SessionText {

    private static final Measure<Ratio> TOLERANCE =
            Measure.RATIO.within(
                    "above 0 and at most 100 %", ratio -> ratio.value() > 0 && ratio.value() <= 1);

    /** How a decision rule is called. */
    private enum Rule {
        SIMPLE,
        GUARD_BAND,
        FOUR_WAY
    }

    private SessionText() {}

    static Judgement judgement(Fields from) {
        Tolerance usual = Tolerance.COMMON_PRACTICE;
        Judgement.On on = from.choice("error", Judgement.On.class, Judgement.USUAL.on());
        Ratio limit = from.quantity("tolerance", TOLERANCE, usual.upper().orElseThrow());
        String source =
                from.text(
                        "tolerance_source",
                        limit.equals(usual.upper().orElseThrow())
                                ? usual.source()
                                : "set by the shop");
        Rule rule = from.choice("rule", Rule.class, Rule.GUARD_BAND);
        if (rule == Rule.SIMPLE && from.has("guard")) {
            throw from.refused("guard", "simple acceptance has no guard band; take one out");
        }
        double guard = from.number("guard", Double.MIN_VALUE, DecisionRule.MULTIPLE_MAX, 1);
        return new Judgement(
                on,
                Tolerance.within(limit, source),
                switch (rule) {
                    case SIMPLE -> new DecisionRule.SimpleAcceptance();
                    case GUARD_BAND -> new DecisionRule.GuardBand(guard);
                    case FOUR_WAY -> new DecisionRule.FourWay(guard);
                });
    }

    static void write(ObjectNode to, Judgement judgement) {
        to.put("error", Fields.spelt(judgement.on()))
                .put("tolerance_ratio", judgement.tolerance().upper().orElseThrow().value());
        rule(to, judgement);
    }

    /** Whose tolerance it is, and how the uncertainty counts. */
    static void rule(ObjectNode to, Judgement judgement) {
        to.put("tolerance_source", judgement.tolerance().source());
        Rule rule =
                switch (judgement.rule()) {
                    case DecisionRule.SimpleAcceptance() -> Rule.SIMPLE;
                    case DecisionRule.GuardBand(double _) -> Rule.GUARD_BAND;
                    case DecisionRule.FourWay(double _) -> Rule.FOUR_WAY;
                };
        to.put("rule", Fields.spelt(rule));
        if (rule != Rule.SIMPLE) {
            to.put("guard", judgement.rule().guard());
        }
    }

    static Session session(Fields from) {
        var by = from.optionalText("by");
        var stage = from.choice("stage", Session.Stage.class, Session.USUAL.stage());
        var override = from.optionalText("override");
        var overdue = from.texts("overdue");
        return from.made(() -> new Session(by, stage, override, overdue));
    }

    static void write(ObjectNode to, Session session) {
        session.by().ifPresent(by -> to.put("by", by));
        to.put("stage", Fields.spelt(session.stage()));
        session.override().ifPresent(reason -> to.put("override", reason));
        if (!session.overdue().isEmpty()) {
            session.overdue().forEach(to.putArray("overdue")::add);
        }
    }
}
