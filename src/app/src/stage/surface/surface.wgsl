// The workshop's surfaces: one lamp, the surroundings as six colours, how open a place is from its
// vertices, and beams. With FINE also shadows and relief; without it, what a processor can draw.
//
// Takes the place of the full surface shader, with its bindings. What is the same for a whole
// surface is looked up where there are few corners, not where there are many pixels.

#import bevy_pbr::{
    mesh_bindings::mesh,
    mesh_functions,
    pbr_bindings,
    pbr_types,
    mesh_view_bindings as view_bindings,
    clustered_forward as clustering,
    mesh_view_types,
    mesh_view_types::POINT_LIGHT_FLAGS_SPOT_LIGHT_Y_NEGATIVE,
    view_transformations::position_world_to_clip,
}
#ifdef FINE
#import bevy_pbr::{mesh_types::MESH_FLAGS_SHADOW_RECEIVER_BIT, shadow_sampling, shadows}
#endif
#ifdef BINDLESS
#import bevy_render::bindless::{bindless_samplers_filtering, bindless_textures_2d}
#import bevy_pbr::pbr_bindings::material_indices
#endif

struct Corner {
    @builtin(instance_index) instance_index: u32,
    @location(0) position: vec3<f32>,
    @location(1) normal: vec3<f32>,
#ifdef VERTEX_UVS_A
    @location(2) uv: vec2<f32>,
#endif
#ifdef VERTEX_UVS_B
    @location(3) uv_b: vec2<f32>,
#endif
#ifdef VERTEX_TANGENTS
    @location(4) tangent: vec4<f32>,
#endif
#ifdef VERTEX_COLORS
    @location(5) color: vec4<f32>,
#endif
}

struct Spot {
    @builtin(position) position: vec4<f32>,
    @location(0) world_position: vec3<f32>,
    @location(1) normal: vec3<f32>,
    // Texture coordinates, openness, and depth along the view.
    @location(2) uv_open: vec4<f32>,
    // Colour of the surface with its dust, and opacity.
    @location(3) color: vec4<f32>,
    // Roughness, metal, reflectance, opacity below which nothing is drawn.
    @location(4) @interpolate(flat) kind: vec4<f32>,
    @location(5) @interpolate(flat) emissive: vec4<f32>,
    // Flags of the material, its place, flags of the mesh.
    @location(6) @interpolate(flat) flags_slot: vec3<u32>,
#ifdef FINE
#ifdef VERTEX_TANGENTS
    @location(7) tangent: vec4<f32>,
#endif
#endif
}

@vertex
fn vertex(in: Corner) -> Spot {
    var out: Spot;
    let world_from_local = mesh_functions::get_world_from_local(in.instance_index);
    let at = world_from_local * vec4(in.position, 1.0);
    out.world_position = at.xyz;
    out.position = position_world_to_clip(at.xyz);
    // Parts are turned and moved but never stretched.
    out.normal = (world_from_local * vec4(in.normal, 0.0)).xyz;
    let slot = mesh[in.instance_index].material_and_lightmap_bind_group_slot & 0xffffu;
#ifdef BINDLESS
    let index = material_indices[slot].material;
    let base = pbr_bindings::material_array[index].base_color;
    let flags = pbr_bindings::material_array[index].flags;
    let emissive = pbr_bindings::material_array[index].emissive;
    let uv_transform = pbr_bindings::material_array[index].uv_transform;
    out.kind = vec4(
        pbr_bindings::material_array[index].perceptual_roughness,
        pbr_bindings::material_array[index].metallic,
        pbr_bindings::material_array[index].reflectance.x,
        pbr_bindings::material_array[index].alpha_cutoff,
    );
#else
    let base = pbr_bindings::material.base_color;
    let flags = pbr_bindings::material.flags;
    let emissive = pbr_bindings::material.emissive;
    let uv_transform = pbr_bindings::material.uv_transform;
    out.kind = vec4(
        pbr_bindings::material.perceptual_roughness,
        pbr_bindings::material.metallic,
        pbr_bindings::material.reflectance.x,
        pbr_bindings::material.alpha_cutoff,
    );
#endif
    out.color = base;
#ifdef VERTEX_COLORS
    out.color *= in.color;
#endif
    out.emissive = emissive;
    out.flags_slot = vec3(flags, slot, mesh[in.instance_index].flags);
#ifdef FINE
#ifdef VERTEX_TANGENTS
    out.tangent = vec4((world_from_local * vec4(in.tangent.xyz, 0.0)).xyz, in.tangent.w);
#endif
#endif
    var uv = vec2(0.0);
#ifdef VERTEX_UVS_A
    uv = (uv_transform * vec3(in.uv, 1.0)).xy;
#endif
    var open = 1.0;
#ifdef VERTEX_UVS_B
    open = in.uv_b.x;
#endif
    let v = view_bindings::view.view_from_world;
    let depth = v[0].z * at.x + v[1].z * at.y + v[2].z * at.z + v[3].z;
    out.uv_open = vec4(uv, open, depth);
    return out;
}

// What comes from direction d: six colours, worked out from the workshop's lamps, door and walls.
fn surroundings(d: vec3<f32>) -> vec3<f32> {
    let w = d * d;
    return w.x * select(LEFT, RIGHT, d.x > 0.0)
        + w.y * select(BELOW, ABOVE, d.y > 0.0)
        + w.z * select(BEHIND, BEFORE, d.z > 0.0);
}

// How much of a lamp a rough surface throws towards the eye: a GGX lobe with the usual short form
// of its shadowing.
fn gloss(n: vec3<f32>, v: vec3<f32>, l: vec3<f32>, rough: f32) -> f32 {
    let h = normalize(v + l);
    let nh = saturate(dot(n, h));
    let lh = saturate(dot(l, h));
    let a = rough * rough;
    let a2 = max(a * a, 0.0004);
    let d = nh * nh * (a2 - 1.0) + 1.0;
    return min(a2 / (4.0 * d * d * max(lh * lh, 0.1) * (a + 0.5)), 12.0);
}

// From light to the screen: a filmic curve, per channel (after K. Narkowicz, 2015).
fn filmic(c: vec3<f32>) -> vec3<f32> {
    let x = c * 0.6;
    return saturate(x * (2.51 * x + 0.03) / (x * (2.43 * x + 0.59) + 0.14));
}

@fragment
fn fragment(in: Spot, @builtin(front_facing) is_front: bool) -> @location(0) vec4<f32> {
    let flags = in.flags_slot.x;
    var color = in.color;
    var emissive = in.emissive.rgb;
#ifdef VERTEX_UVS_A
    if (flags & pbr_types::STANDARD_MATERIAL_FLAGS_BASE_COLOR_TEXTURE_BIT) != 0u {
#ifdef BINDLESS
        let slot = in.flags_slot.y;
        let print = textureSample(
            bindless_textures_2d[material_indices[slot].base_color_texture],
            bindless_samplers_filtering[material_indices[slot].base_color_sampler],
            in.uv_open.xy
        );
#else
        let print = textureSample(
            pbr_bindings::base_color_texture,
            pbr_bindings::base_color_sampler,
            in.uv_open.xy
        );
#endif
        color *= print;
        // A display shines in the colours that it shows.
        if (flags & pbr_types::STANDARD_MATERIAL_FLAGS_EMISSIVE_TEXTURE_BIT) != 0u {
            emissive *= print.rgb;
        }
    }
#endif
    let mode = flags & pbr_types::STANDARD_MATERIAL_FLAGS_ALPHA_MODE_RESERVED_BITS;
    if mode == pbr_types::STANDARD_MATERIAL_FLAGS_ALPHA_MODE_OPAQUE {
        color.a = 1.0;
    }
#ifdef MAY_DISCARD
    if mode == pbr_types::STANDARD_MATERIAL_FLAGS_ALPHA_MODE_MASK {
        if color.a < in.kind.w {
            discard;
        }
        color.a = 1.0;
    }
#endif
    if (flags & pbr_types::STANDARD_MATERIAL_FLAGS_UNLIT_BIT) != 0u {
        return color;
    }
    var n = normalize(in.normal);
    if !is_front && (flags & pbr_types::STANDARD_MATERIAL_FLAGS_DOUBLE_SIDED_BIT) != 0u {
        n = -n;
    }
    let corner_n = n;
    var rough = in.kind.x;
    var metal = in.kind.y;
#ifdef FINE
#ifdef VERTEX_UVS_A
    if (flags & pbr_types::STANDARD_MATERIAL_FLAGS_METALLIC_ROUGHNESS_TEXTURE_BIT) != 0u {
#ifdef BINDLESS
        let skin = textureSample(
            bindless_textures_2d[material_indices[in.flags_slot.y].metallic_roughness_texture],
            bindless_samplers_filtering[material_indices[in.flags_slot.y].metallic_roughness_sampler],
            in.uv_open.xy
        );
#else
        let skin = textureSample(
            pbr_bindings::metallic_roughness_texture,
            pbr_bindings::metallic_roughness_sampler,
            in.uv_open.xy
        );
#endif
        rough *= skin.g;
        metal *= skin.b;
    }
#ifdef VERTEX_TANGENTS
#ifdef STANDARD_MATERIAL_NORMAL_MAP
#ifdef BINDLESS
    let relief = textureSample(
        bindless_textures_2d[material_indices[in.flags_slot.y].normal_map_texture],
        bindless_samplers_filtering[material_indices[in.flags_slot.y].normal_map_sampler],
        in.uv_open.xy
    );
#else
    let relief = textureSample(
        pbr_bindings::normal_map_texture,
        pbr_bindings::normal_map_sampler,
        in.uv_open.xy
    );
#endif
    let tilt = relief.rgb * 2.0 - 1.0;
    let along = in.tangent.xyz;
    n = normalize(tilt.x * along + tilt.y * in.tangent.w * cross(n, along) + tilt.z * n);
#endif
#endif
#endif
#endif
    let p = in.world_position;
    let v = normalize(view_bindings::view.world_position - p);
    let open = in.uv_open.z;
    let matt = color.rgb * (1.0 - metal);
    let f0 = mix(vec3(0.16 * in.kind.z * in.kind.z), color.rgb, metal);

    // The surroundings: matt, and mirrored, the more the flatter one looks along the surface.
    let nv = max(dot(n, v), 0.0);
    let edge = 1.0 - nv;
    let edge2 = edge * edge;
    let mirror = f0 + (1.0 - f0) * (edge2 * edge2 * edge * (1.0 - rough) * (1.0 - rough));
    let r = 2.0 * dot(n, v) * n - v;
    // A smooth surface mirrors the lamps under the ceiling as bright bands.
    let up = max(r.y, 0.0);
    let band = abs(abs(r.x) - 0.62 * up);
    let bands = saturate(1.0 - band / (0.10 * up + 0.35 * rough)) * up * (2.2 - 1.8 * rough);
    let seen = surroundings(r) + vec3(1.0, 0.97, 0.91) * bands;
    var light = (matt * surroundings(n) + mirror * seen) * open * AROUND;

    // The lamp over the car.
    let exposure = view_bindings::view.exposure;
    let l = view_bindings::lights.directional_lights[0].direction_to_light;
    let nl = dot(n, l);
    if nl > 0.0 {
        let lamp = view_bindings::lights.directional_lights[0].color.rgb * (exposure * nl * 0.318);
        // Without shadows, what is hidden from the room is taken to be hidden from its lamp.
        var reached = smoothstep(0.1, 0.6, open);
#ifdef FINE
        let lamp_flags = view_bindings::lights.directional_lights[0].flags;
        if (in.flags_slot.z & MESH_FLAGS_SHADOW_RECEIVER_BIT) != 0u
            && (lamp_flags & mesh_view_types::DIRECTIONAL_LIGHT_FLAGS_SHADOWS_ENABLED_BIT) != 0u {
#ifdef SHADOW_FILTER_METHOD_GAUSSIAN
            reached = softly_reached(p, corner_n);
#else
            reached = shadows::fetch_directional_shadow(
                0u, vec4(p, 1.0), corner_n, in.uv_open.w, in.position.xy);
#endif
        }
#endif
        light += lamp * reached * (matt + f0 * gloss(n, v, l, rough));
    }

    // Beams and small lamps near this spot, when one is lit.
    if view_bindings::lights.ambient_color.r > 0.0 {
        light += lamps(in, n, corner_n, v, matt, f0, rough);
    }
    return vec4(filmic(light + emissive), color.a);
}

#ifdef FINE
#ifdef SHADOW_FILTER_METHOD_GAUSSIAN
// Share of the lamp over the car that reaches a spot, past soft edges: four looks, each of which takes in two by
// two texels, so that an edge is an even slope four texels wide. The lamp has one map.
fn softly_reached(p: vec3<f32>, corner_n: vec3<f32>) -> f32 {
    let lamp = &view_bindings::lights.directional_lights[0];
    let off = (*lamp).shadow_normal_bias * (*lamp).cascades[0].texel_size * corner_n
        + (*lamp).shadow_depth_bias * (*lamp).direction_to_light;
    let spot = shadows::world_to_directional_light_local(0u, 0u, vec4(p + off, 1.0));
    if spot.w == 0.0 {
        return 1.0;
    }
    let map = i32((*lamp).depth_texture_base_index);
    let texel = 1.0 / vec2<f32>(textureDimensions(view_bindings::directional_shadow_textures));
    let aside = vec2(texel.x, -texel.y);
    return 0.25 * (
        shadow_sampling::sample_shadow_map_hardware(spot.xy - texel, spot.z, map)
        + shadow_sampling::sample_shadow_map_hardware(spot.xy + texel, spot.z, map)
        + shadow_sampling::sample_shadow_map_hardware(spot.xy - aside, spot.z, map)
        + shadow_sampling::sample_shadow_map_hardware(spot.xy + aside, spot.z, map));
}
#endif
#endif

fn lamps(
    in: Spot,
    n: vec3<f32>,
    corner_n: vec3<f32>,
    v: vec3<f32>,
    matt: vec3<f32>,
    f0: vec3<f32>,
    rough: f32,
) -> vec3<f32> {
    let p = in.world_position;
    let exposure = view_bindings::view.exposure;
    var light = vec3(0.0);
    let cluster = clustering::view_fragment_cluster_index(in.position.xy, in.uv_open.w, false);
    let ranges = clustering::unpack_clusterable_object_index_ranges(cluster);
    for (var i = ranges.first_point_light_index_offset;
            i < ranges.first_reflection_probe_index_offset; i += 1u) {
        let id = clustering::get_clusterable_object_id(i);
        let to = view_bindings::clustered_lights.data[id].position_radius.xyz - p;
        let d2 = dot(to, to);
        let dir = to * inverseSqrt(max(d2, 1e-6));
        let reach = view_bindings::clustered_lights.data[id].color_inverse_square_range;
        let fade = saturate(1.0 - d2 * reach.w * d2 * reach.w);
        var strength = fade * fade / max(d2, 1e-4) * saturate(dot(n, dir));
        if i >= ranges.first_spot_light_index_offset {
            let cone = view_bindings::clustered_lights.data[id].light_custom_data;
            let spot_flags = view_bindings::clustered_lights.data[id].flags;
            var axis_y = sqrt(max(0.0, 1.0 - cone.x * cone.x - cone.y * cone.y));
            if (spot_flags & POINT_LIGHT_FLAGS_SPOT_LIGHT_Y_NEGATIVE) != 0u {
                axis_y = -axis_y;
            }
            let within = saturate(dot(-vec3(cone.x, axis_y, cone.y), dir) * cone.z + cone.w);
            strength *= within * within;
#ifdef FINE
            if strength > 0.0
                && (in.flags_slot.z & MESH_FLAGS_SHADOW_RECEIVER_BIT) != 0u
                && (spot_flags & mesh_view_types::POINT_LIGHT_FLAGS_SHADOWS_ENABLED_BIT) != 0u {
                strength *= shadows::fetch_spot_shadow(
                    id,
                    vec4(p, 1.0),
                    corner_n,
                    view_bindings::clustered_lights.data[id].shadow_map_near_z,
                    in.position.xy,
                );
            }
#endif
        }
        light += reach.rgb * (exposure * strength * 0.318) * (matt + f0 * gloss(n, v, dir, rough));
    }
    return light;
}
