package catchbay.run;

import catchbay.quantity.Volume;

/** How a run ended. Every end has a name and its reason in a sentence. */
public sealed interface Outcome {

    /** How records and documents call this outcome. */
    String key();

    /** Why it ended so, as a sentence. */
    String reason();

    /** The catch was measured and compared. */
    record Measured(CatchResult result) implements Outcome {
        @Override
        public String key() {
            return "measured";
        }

        @Override
        public String reason() {
            return "The catch was measured and compared.";
        }
    }

    /** The catch is void: something made its figures worthless. */
    record Void(Cause cause, String reason) implements Outcome {
        @Override
        public String key() {
            return cause.key();
        }
    }

    /** A person stopped the run. */
    record Stopped(String by) implements Outcome {
        @Override
        public String key() {
            return "stopped";
        }

        @Override
        public String reason() {
            return "Stopped by "
                    + by
                    + "; the bay is in its safe state and the catch does not count.";
        }
    }

    /** The run was not begun: its setup contradicts itself or is out of date. */
    record Refused(String reason) implements Outcome {
        @Override
        public String key() {
            return "refused";
        }
    }

    /** The program ended in the middle of the run: power cut, kill, or a trace that breaks off. */
    record Interrupted(String reason) implements Outcome {
        @Override
        public String key() {
            return "interrupted";
        }
    }

    /** What can make a catch void. */
    enum Cause {
        /** The door's numbers skip. */
        EDGES_LOST("edges_lost"),
        /** Pulse spacing leaps in an even train. */
        PULSES_LEAP("pulses_leap"),
        /** The two channels of the reference meter do not tell the same. */
        CHANNELS_PART("channels_part"),
        /** The window's edges or totals cannot be evaluated. */
        WINDOW_UNUSABLE("window_unusable"),
        /** Flow outside a reference's certified range. */
        OUT_OF_RANGE("out_of_range"),
        /** Flow did not become steady in time. */
        NOT_SETTLED("not_settled"),
        /** Flow ended during the catch. */
        FLOW_STOPPED("flow_stopped"),
        /** Flow did not come to rest in time. */
        NOT_AT_REST("not_at_rest"),
        /** The diverter did not pass or arrive in time. */
        DIVERTER_NOT_ARRIVED("diverter_not_arrived"),
        /** The diverter moved without a command. */
        DIVERTER_MOVED("diverter_moved"),
        /** The scale sends nothing. */
        SCALE_SILENT("scale_silent"),
        /** The scale changed its unit or its net/gross state. */
        SCALE_CHANGED("scale_changed"),
        /** The scale did not come to rest in time. */
        SCALE_NOT_AT_REST("scale_not_at_rest"),
        /** More in the tank than the scale or the tank may hold. */
        OVERFILL("overfill"),
        /** Reference meter and scale disagree. */
        REFERENCES_DISAGREE("references_disagree"),
        /** A thermometer failed and nothing stands in for it. */
        TEMPERATURE_LOST("temperature_lost"),
        /** The truck's own figure is missing, stale, or contradicts itself. */
        REPORT_UNUSABLE("report_unusable"),
        /** Nobody answered in time. */
        NO_ANSWER("no_answer"),
        /** The emergency stop was pressed. */
        EMERGENCY_STOP("emergency_stop"),
        /** The catch tank's float is up. */
        HIGH_LEVEL("high_level"),
        /** Liquid on the floor. */
        SPILL("spill"),
        /** The bay's own supply is lost. */
        SUPPLY_LOST("supply_lost"),
        /** Flow was started and did not come. */
        NO_FLOW("no_flow"),
        /** Liquid flows that nobody started, or that was stopped. */
        FLOW_UNCOMMANDED("flow_uncommanded"),
        /** The tank grows lighter, or little flows, with everything shut. */
        LEAK("leak"),
        /** Far more flows than is asked, or the truck's meter does not see it. */
        RUNAWAY("runaway"),
        /** The scale does not rise while liquid runs into the tank. */
        SCALE_FROZEN("scale_frozen"),
        /** The tank was to be emptied and was not. */
        TANK_NOT_EMPTIED("tank_not_emptied"),
        /** Pressure at the coupler above its limit. */
        PRESSURE_HIGH("pressure_high"),
        /** The liquid is colder or warmer than the plan allows. */
        TEMPERATURE_OUTSIDE("temperature_outside"),
        /** Nobody showed to be there. */
        ATTENDANT_ABSENT("attendant_absent"),
        /** The disk is nearly full. */
        DISK_LOW("disk_low"),
        /** The catch takes longer than it may. */
        TIME_LIMIT("time_limit"),
        /** A port failed. */
        PORT_FAILED("port_failed"),
        /** The trace could not be written. */
        TRACE_FAILED("trace_failed");

        private final String key;

        Cause(String key) {
            this.key = key;
        }

        /** How records and documents call this cause. */
        public String key() {
            return key;
        }
    }

    /** A volume for a sentence: US gallons with three decimals. */
    static String gallons(Volume volume) {
        return String.format(java.util.Locale.ROOT, "%.3f US gal", volume.usGallons());
    }
}
