package catchbay.hardware.gpiochip;

import java.util.Locale;

/** What the chip itself does to an input that nothing drives. */
public enum Bias {
    /** Whatever the board has set up. */
    AS_IS(0),
    /** A resistor to the supply. */
    UP(Uapi.FLAG_PULL_UP),
    /** A resistor to ground. */
    DOWN(Uapi.FLAG_PULL_DOWN),
    /** None. */
    OFF(Uapi.FLAG_BIAS_DISABLED);

    private final long flag;

    Bias(long flag) {
        this.flag = flag;
    }

    long flag() {
        return flag;
    }

    /** The bias called so in settings; fails with a sentence that lists the known ones. */
    public static Bias ofKey(String key) {
        for (Bias bias : values()) {
            if (bias.key().equals(key)) {
                return bias;
            }
        }
        throw new IllegalArgumentException(
                "the bias '" + key + "' is not known; use as-is, up, down or off");
    }

    private String key() {
        return name().toLowerCase(Locale.ROOT).replace('_', '-');
    }
}
