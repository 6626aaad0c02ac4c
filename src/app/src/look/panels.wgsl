// Draws panels, words and pictures as bevy_egui's own shader does, with the same colours, but
// leaves out the conversions that change nothing: most of a panel is one plain colour, and a
// picture is shown as it is. A processor that draws a million pixels notices.

struct Place {
    scale: vec2<f32>,
    translation: vec2<f32>,
}

struct Corner {
    @location(0) position: vec2<f32>,
    @location(1) uv: vec2<f32>,
    @location(2) color: vec4<f32>,
}

struct Spot {
    @builtin(position) position: vec4<f32>,
    @location(0) color: vec4<f32>,
    @location(1) uv: vec2<f32>,
    @location(2) linear: vec3<f32>,
}

@group(0) @binding(0) var<uniform> place: Place;

#ifdef BINDLESS
@group(1) @binding(0) var image_texture: binding_array<texture_2d<f32>>;
@group(1) @binding(1) var image_sampler: binding_array<sampler>;

struct Which {
    offset: u32,
};
var<immediate> which: Which;
#else
@group(1) @binding(0) var image_texture: texture_2d<f32>;
@group(1) @binding(1) var image_sampler: sampler;
#endif

// IEC 61966-2-1: from the coded value to light.
fn light_of(coded: vec3<f32>) -> vec3<f32> {
    let low = coded / 12.92;
    let high = pow((coded + 0.055) / 1.055, vec3(2.4));
    return select(high, low, coded < vec3(0.04045));
}

// IEC 61966-2-1: from light to the coded value.
fn coded_of(light: vec3<f32>) -> vec3<f32> {
    let low = light * 12.92;
    let high = 1.055 * pow(light, vec3(1.0 / 2.4)) - 0.055;
    return select(high, low, light < vec3(0.0031308));
}

fn texel(uv: vec2<f32>) -> vec4<f32> {
#ifdef BINDLESS
    return textureSampleLevel(image_texture[which.offset], image_sampler[which.offset], uv, 0.0);
#else
    return textureSampleLevel(image_texture, image_sampler, uv, 0.0);
#endif
}

@vertex
fn vs_main(in: Corner) -> Spot {
    let at = in.position * place.scale + place.translation;
    return Spot(vec4(at, 0.0, 1.0), in.color, in.uv, light_of(in.color.rgb));
}

@fragment
fn fs_main(in: Spot) -> @location(0) vec4<f32> {
    // The corner of egui's own texture is white: a plain colour.
    if in.uv.x == 0.0 && in.uv.y == 0.0 {
        return vec4(in.linear, in.color.a);
    }
    let found = texel(in.uv);
    // Pictures are shown in white light.
    if all(in.color > vec4(0.9999)) {
        return found;
    }
    // Words are mixed in coded values, or they would look too thin.
    let mixed = coded_of(found.rgb) * in.color.rgb;
    return vec4(light_of(mixed), found.a * in.color.a);
}
